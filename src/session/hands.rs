//! From devices to controls, as a dead man's control does it: a button works while something holds it
//! down, and whatever takes the hands away lets go of everything.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::sim::controls::{Button, Call, Controls, Held, Upset};

/// One key, mouse button or pad button: which device, and which of its switches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Source {
    pub device: u64,
    pub switch: u64,
}

/// What devices and the window tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    /// A switch goes down for a button of the pendant; `repeated` where the system says it again for a
    /// key that is held.
    Down {
        source: Source,
        button: Button,
        repeated: bool,
    },
    /// A switch comes up.
    Up { source: Source },
    /// The window has lost the focus, is hidden, or shows something else over the pendant.
    HandsOff,
    /// A device is gone.
    DeviceGone { device: u64 },
}

/// See the module's text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hands {
    /// Switches that are down and hold a button.
    down: BTreeMap<Source, Button>,
    /// Switches that must come up before they hold anything again.
    barred: BTreeSet<Source>,
    /// Pressed and let go between two ticks: held for one.
    tapped: Held,
    emergency_stop: bool,
    isolated: bool,
    /// What is to be said, and whether the last tick said something.
    calls: VecDeque<Call>,
    speaking: bool,
    /// What the instructor is to bring about, and whether the last tick brought something.
    upsets: VecDeque<Upset>,
    upsetting: bool,
}

impl Hands {
    /// Hands that take over from controls as they were: what latches stays, what is held must be
    /// pressed anew.
    pub fn taking_over(controls: &Controls) -> Self {
        Self {
            emergency_stop: controls.emergency_stop,
            isolated: controls.isolated,
            ..Self::default()
        }
    }

    /// As [`Hands::taking_over`], with the same devices in the same hands: what is down must come up
    /// first.
    pub fn take_over(&mut self, controls: &Controls) {
        self.feel(Input::HandsOff);
        self.emergency_stop = controls.emergency_stop;
        self.isolated = controls.isolated;
        self.calls.clear();
        self.speaking = controls.call.is_some();
    }

    pub fn feel(&mut self, input: Input) {
        match input {
            Input::Down {
                source,
                button,
                repeated,
            } => {
                if !repeated && !self.barred.contains(&source) && !self.down.contains_key(&source) {
                    self.down.insert(source, button);
                    self.tapped = self.tapped.with(button);
                }
            }
            Input::Up { source } => {
                self.down.remove(&source);
                self.barred.remove(&source);
            }
            Input::HandsOff => {
                self.barred.extend(self.down.keys());
                self.down.clear();
                self.tapped = Held::NONE;
            }
            Input::DeviceGone { device } => {
                // A device that comes back begins with everything up.
                self.down.retain(|source, _| source.device != device);
                self.barred.retain(|source| source.device != device);
                self.tapped = Held::NONE;
            }
        }
    }

    /// Buttons that are down now.
    pub fn held(&self) -> Held {
        self.down.values().copied().collect()
    }

    /// Strikes the emergency stop: it latches.
    pub fn stop(&mut self) {
        self.emergency_stop = true;
    }

    /// Unlatches the emergency stop; not while any button is held, so that nothing starts by it. Says
    /// whether it is unlatched.
    pub fn reset_stop(&mut self) -> bool {
        if self.held().is_empty() && self.tapped.is_empty() {
            self.emergency_stop = false;
        }
        !self.emergency_stop
    }

    pub fn is_stopped(&self) -> bool {
        self.emergency_stop
    }

    /// Isolates and locks the power, or gives it back; the latter not while any button is held. Says
    /// whether it is isolated.
    pub fn isolate(&mut self, isolated: bool) -> bool {
        if isolated || (self.held().is_empty() && self.tapped.is_empty()) {
            self.isolated = isolated;
        }
        self.isolated
    }

    pub fn is_isolated(&self) -> bool {
        self.isolated
    }

    /// Says something over the radio, once.
    pub fn say(&mut self, call: Call) {
        self.calls.push_back(call);
    }

    /// Brings something about, once.
    pub fn upset(&mut self, upset: Upset) {
        self.upsets.push_back(upset);
    }

    /// The controls of the next tick.
    pub fn controls(&mut self) -> Controls {
        let held = self.held().iter().chain(self.tapped.iter()).collect();
        self.tapped = Held::NONE;
        // Between two calls there is a pause, or they would be heard as one.
        let call = if self.speaking {
            None
        } else {
            self.calls.pop_front()
        };
        self.speaking = call.is_some();
        let upset = if self.upsetting {
            None
        } else {
            self.upsets.pop_front()
        };
        self.upsetting = upset.is_some();
        Controls {
            held,
            emergency_stop: self.emergency_stop,
            isolated: self.isolated,
            call,
            upset,
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const KEYBOARD: u64 = 0;
    const PAD: u64 = 7;

    fn source(device: u64, switch: u64) -> Source {
        Source { device, switch }
    }

    fn down(source: Source, button: Button) -> Input {
        Input::Down {
            source,
            button,
            repeated: false,
        }
    }

    fn repeat(source: Source, button: Button) -> Input {
        Input::Down {
            source,
            button,
            repeated: true,
        }
    }

    fn now(hands: &mut Hands) -> Held {
        hands.controls().held
    }

    fn only(buttons: &[Button]) -> Held {
        buttons.iter().copied().collect()
    }

    #[test]
    fn a_button_works_while_it_is_held() {
        let mut hands = Hands::default();
        let f = source(KEYBOARD, 1);
        hands.feel(down(f, Button::Feed));
        for _ in 0..3 {
            assert_eq!(now(&mut hands), only(&[Button::Feed]));
        }
        hands.feel(Input::Up { source: f });
        assert_eq!(now(&mut hands), Held::NONE);
    }

    #[test]
    fn a_tap_between_two_ticks_is_felt_for_one() {
        let mut hands = Hands::default();
        let f = source(KEYBOARD, 1);
        hands.feel(down(f, Button::ShiftNearIn));
        hands.feel(Input::Up { source: f });
        assert_eq!(now(&mut hands), only(&[Button::ShiftNearIn]));
        assert_eq!(now(&mut hands), Held::NONE);
        hands.feel(down(f, Button::ShiftNearIn));
        hands.feel(Input::HandsOff);
        assert_eq!(now(&mut hands), Held::NONE, "hands off is off at once");
    }

    #[test]
    fn a_key_that_repeats_holds_nothing_by_it() {
        let mut hands = Hands::default();
        let f = source(KEYBOARD, 1);
        hands.feel(repeat(f, Button::Feed));
        assert_eq!(now(&mut hands), Held::NONE);
        hands.feel(down(f, Button::Feed));
        hands.feel(repeat(f, Button::Feed));
        hands.feel(Input::Up { source: f });
        hands.feel(repeat(f, Button::Feed));
        now(&mut hands);
        assert_eq!(now(&mut hands), Held::NONE);
    }

    #[test]
    fn whatever_takes_the_hands_away_lets_go_until_pressed_anew() {
        let mut hands = Hands::default();
        let (f, g) = (source(KEYBOARD, 1), source(PAD, 1));
        hands.feel(down(f, Button::Feed));
        hands.feel(down(g, Button::LiftBothUp));
        hands.feel(Input::HandsOff);
        assert_eq!(now(&mut hands), Held::NONE);
        // Still down, and told so again in every way.
        hands.feel(repeat(f, Button::Feed));
        hands.feel(down(f, Button::Feed));
        assert_eq!(now(&mut hands), Held::NONE);
        hands.feel(Input::Up { source: f });
        hands.feel(down(f, Button::Feed));
        assert_eq!(now(&mut hands), only(&[Button::Feed]));
        // The pad's is still barred.
        hands.feel(down(g, Button::LiftBothUp));
        assert_eq!(now(&mut hands), only(&[Button::Feed]));
    }

    #[test]
    fn a_pad_that_is_gone_holds_nothing_and_comes_back_up() {
        let mut hands = Hands::default();
        let (f, g) = (source(KEYBOARD, 1), source(PAD, 1));
        hands.feel(down(f, Button::Horn));
        hands.feel(down(g, Button::Feed));
        hands.feel(Input::DeviceGone { device: PAD });
        assert_eq!(now(&mut hands), only(&[Button::Horn]));
        hands.feel(down(g, Button::Feed));
        assert_eq!(now(&mut hands), only(&[Button::Horn, Button::Feed]));
    }

    #[test]
    fn two_switches_hold_one_button_until_both_are_up() {
        let mut hands = Hands::default();
        let (f, g) = (source(KEYBOARD, 1), source(PAD, 1));
        hands.feel(down(f, Button::Feed));
        hands.feel(down(g, Button::Feed));
        hands.feel(Input::Up { source: f });
        assert_eq!(now(&mut hands), only(&[Button::Feed]));
        hands.feel(Input::Up { source: g });
        assert_eq!(now(&mut hands), Held::NONE);
    }

    #[test]
    fn opposite_buttons_go_to_the_line_together_and_hold_it() {
        let mut hands = Hands::default();
        hands.feel(down(source(KEYBOARD, 1), Button::LiftNearUp));
        hands.feel(down(source(KEYBOARD, 2), Button::LiftNearDown));
        let controls = hands.controls();
        assert!(controls.has(Button::LiftNearUp) && controls.has(Button::LiftNearDown));
        assert_eq!(
            controls.asked(crate::domain::spec::Motion::LiftNear),
            crate::sim::drive::Way::Hold
        );
    }

    #[test]
    fn the_emergency_stop_latches_and_is_not_reset_under_a_held_button() {
        let mut hands = Hands::default();
        let f = source(KEYBOARD, 1);
        hands.stop();
        hands.feel(Input::HandsOff);
        assert!(hands.controls().emergency_stop && hands.controls().emergency_stop);
        hands.feel(down(f, Button::Feed));
        assert!(!hands.reset_stop());
        assert!(hands.controls().emergency_stop);
        hands.feel(Input::Up { source: f });
        hands.controls();
        assert!(hands.reset_stop());
        assert!(!hands.controls().emergency_stop);
    }

    #[test]
    fn the_power_comes_back_only_with_nothing_held() {
        let mut hands = Hands::default();
        let f = source(KEYBOARD, 1);
        hands.feel(down(f, Button::Feed));
        assert!(hands.isolate(true));
        assert!(hands.isolate(false), "Feed is held");
        hands.feel(Input::Up { source: f });
        assert!(hands.controls().isolated);
        assert!(!hands.isolate(false));
    }

    #[test]
    fn a_call_is_said_once_and_two_are_said_apart() {
        let mut hands = Hands::default();
        hands.say(Call::Clear);
        hands.say(Call::Clear);
        let said: Vec<Option<Call>> = (0..5).map(|_| hands.controls().call).collect();
        assert_eq!(
            said,
            [Some(Call::Clear), None, Some(Call::Clear), None, None]
        );
    }

    #[test]
    fn what_is_brought_about_twice_comes_twice() {
        let mut hands = Hands::default();
        hands.upset(Upset::Visitor);
        hands.upset(Upset::Visitor);
        let brought: Vec<_> = (0..4).map(|_| hands.controls().upset).collect();
        let visitor = Some(Upset::Visitor);
        assert_eq!(brought, [visitor, None, visitor, None]);
    }

    #[test]
    fn whoever_takes_over_finds_what_latches_and_holds_nothing() {
        let was = Controls {
            held: only(&[Button::Feed]),
            emergency_stop: true,
            isolated: true,
            call: None,
            upset: None,
        };
        let controls = Hands::taking_over(&was).controls();
        assert_eq!((controls.held, controls.isolated), (Held::NONE, true));
        assert!(controls.emergency_stop);
        let mut hands = Hands::default();
        let f = source(KEYBOARD, 1);
        hands.feel(down(f, Button::Feed));
        hands.take_over(&was);
        hands.feel(down(f, Button::Feed));
        assert_eq!(now(&mut hands), Held::NONE, "it was down before");
    }

    #[derive(Clone, Copy, Debug)]
    enum Doing {
        Feel(Input),
        Stop,
        Reset,
        Isolate(bool),
        Tick,
    }

    fn inputs() -> impl Strategy<Value = Doing> {
        let source = || (0..3_u64, 0..4_u64).prop_map(|(device, switch)| Source { device, switch });
        prop_oneof![
            4 => (source(), 0..22_usize, any::<bool>()).prop_map(|(source, button, repeated)| {
                Doing::Feel(Input::Down { source, button: Button::ALL[button], repeated })
            }),
            4 => source().prop_map(|source| Doing::Feel(Input::Up { source })),
            1 => Just(Doing::Feel(Input::HandsOff)),
            1 => (0..3_u64).prop_map(|device| Doing::Feel(Input::DeviceGone { device })),
            1 => Just(Doing::Stop),
            1 => Just(Doing::Reset),
            1 => any::<bool>().prop_map(Doing::Isolate),
            4 => Just(Doing::Tick),
        ]
    }

    proptest! {
        /// Against the plain account of what each switch has done.
        #[test]
        fn nothing_is_held_but_by_a_switch_pressed_since(doings in prop::collection::vec(inputs(), 0..80)) {
            let mut hands = Hands::default();
            // For each switch: whether it is known to be down, and the button it holds.
            let mut switches: BTreeMap<Source, (bool, Option<Button>)> = BTreeMap::new();
            let mut felt = BTreeSet::new();
            let mut stopped = false;
            for doing in doings {
                match doing {
                    Doing::Feel(input) => {
                        hands.feel(input);
                        match input {
                            Input::Down { source, button, repeated } => {
                                let switch = switches.entry(source).or_default();
                                if !repeated && !switch.0 {
                                    *switch = (true, Some(button));
                                    felt.insert(button);
                                }
                            }
                            Input::Up { source } => {
                                switches.remove(&source);
                            }
                            Input::HandsOff => {
                                for switch in switches.values_mut() {
                                    switch.1 = None;
                                }
                                felt.clear();
                            }
                            Input::DeviceGone { device } => {
                                switches.retain(|source, _| source.device != device);
                                felt.clear();
                            }
                        }
                    }
                    Doing::Stop => {
                        hands.stop();
                        stopped = true;
                    }
                    Doing::Reset => {
                        let any_held = switches.values().any(|switch| switch.1.is_some());
                        let reset = hands.reset_stop();
                        if any_held && stopped {
                            prop_assert!(!reset);
                        }
                        stopped = !reset;
                    }
                    Doing::Isolate(isolated) => {
                        let now = hands.isolate(isolated);
                        prop_assert!(now || !isolated);
                    }
                    Doing::Tick => {
                        let controls = hands.controls();
                        let held: Held = switches.values().filter_map(|switch| switch.1).collect();
                        for button in Button::ALL {
                            let tapped = felt.contains(&button);
                            prop_assert_eq!(controls.has(button), held.has(button) || tapped);
                        }
                        felt.clear();
                        prop_assert_eq!(controls.emergency_stop, stopped);
                    }
                }
            }
        }
    }
}
