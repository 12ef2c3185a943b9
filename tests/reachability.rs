//! Every outcome that is claimed, by an act within the controls' range: the run that gives it and a
//! milder one that does not. The table is in DEVELOPERS.md; the shipped scenarios' own pairs are in
//! `scenario_outcomes.rs`.

#[path = "common/lines.rs"]
mod lines;

use chockline::domain::math::{deg, rad};
use chockline::domain::spec::{EscapementKind, LineSpec, Surface};
use chockline::evidence::{Figures, Outcome};
use chockline::operator::{Ending, Operator, run};
use chockline::sim::controls::{Button, Controls};
use chockline::sim::line::{EventKind, Line, Stage, StickPlace};
use chockline::sim::world::StickId;

/// Feeds as told: lets go when the first stick's centre is `let_go_m` from the gate's far edge (past
/// it counts negative), and feeds `times` times.
struct Hand {
    let_go_m: f64,
    times: u32,
    fed: u32,
    holding: bool,
    since_s: f64,
}

impl Hand {
    fn new(let_go_m: f64, times: u32) -> Self {
        Self {
            let_go_m,
            times,
            fed: 0,
            holding: false,
            since_s: 0.0,
        }
    }
}

impl Operator for Hand {
    fn controls(&mut self, line: &Line) -> Controls {
        let now_s = line.time_s();
        if self.holding {
            let next = StickId(self.fed as usize - 1);
            let away_m = line.along_m(next) - line.rig().gate_far_edge_m();
            if away_m < self.let_go_m || now_s - self.since_s > 8.0 {
                self.holding = false;
                self.since_s = now_s;
            }
        } else if self.fed < self.times
            && line.stage() == Stage::Blocked
            && now_s - self.since_s > 2.0
            && line.is_at_rest()
        {
            self.holding = true;
            self.fed += 1;
            self.since_s = now_s;
        }
        Controls::held(self.holding.then_some(Button::Feed))
    }

    fn is_done(&self) -> bool {
        self.fed == self.times && !self.holding
    }
}

fn line(od_m: f64, sticks: usize, pitch_deg: f64) -> LineSpec {
    lines::line(
        lines::pipe(od_m, 17.0, 0.0),
        sticks,
        pitch_deg,
        EscapementKind::PinPair,
    )
}

fn feed(spec: &LineSpec, mut hand: Hand) -> (Outcome, Line) {
    let mut line = Line::build(spec);
    let ending: Ending =
        run(&mut line, &mut hand, 60.0, |_, _| {}).expect("no fault of the simulation");
    let figures = Figures::of(&line);
    (Outcome::of(&line, ending, &figures), line)
}

/// Let go well clear of the gate.
const CLEAR_M: f64 = -0.3;

fn through(line: &Line) -> usize {
    line.sticks()
        .filter(|&stick| line.place(stick) != StickPlace::Held)
        .count()
}

/// Roll-off: a rack steep enough that the fed stick comes too fast for the saddle. The closed form
/// (no slip) is cautious: on a dry saddle the stick slips as it climbs and needs some more.
#[test]
fn a_steep_rack_sends_a_stick_over_the_saddle_and_the_trades_pitch_does_not() {
    for od_m in [0.6096, 1.6002] {
        for (pitch_deg, want) in [
            (4.0, Outcome::OneStick),
            (6.0, Outcome::OneStick),
            (12.0, Outcome::RollOff),
        ] {
            let (outcome, _) = feed(&line(od_m, 1, pitch_deg), Hand::new(CLEAR_M, 1));
            assert_eq!(outcome, want, "{od_m} m at {pitch_deg} deg");
        }
    }
}

/// Two sticks in the receiver: fed on to an occupied one with the interlock defeated. The second
/// comes to rest on the first, past the gate and not received.
#[test]
fn feeding_on_to_a_received_stick_leaves_the_second_hanging_and_the_interlock_prevents_it() {
    let mut spec = line(0.6096, 3, 5.0);
    spec.escapement.interlock = false;
    let (outcome, stacked) = feed(&spec, Hand::new(CLEAR_M, 2));
    assert_eq!(outcome, Outcome::Hung);
    assert_eq!(through(&stacked), 2);
    assert_eq!(stacked.place(StickId(1)), StickPlace::Released);

    spec.escapement.interlock = true;
    let (_, kept) = feed(&spec, Hand::new(CLEAR_M, 2));
    assert_eq!(through(&kept), 1);
    assert!(
        kept.events()
            .iter()
            .any(|event| event.kind == EventKind::FeedRefused)
    );
}

/// Letting go too early is safe on this rig: the gate closes before the stick has left it, or behind
/// it, and never more than one stick is through.
#[test]
fn letting_go_at_any_moment_never_lets_a_second_stick_through() {
    for let_go_m in [0.30, 0.20, 0.10, 0.05, 0.0, -0.05, -0.2] {
        let (outcome, line) = feed(&line(0.6096, 3, 5.0), Hand::new(let_go_m, 1));
        assert!(through(&line) <= 1, "let go at {let_go_m} m: {outcome:?}");
        assert!(
            matches!(outcome, Outcome::OneStick | Outcome::Hung | Outcome::Jammed),
            "let go at {let_go_m} m: {outcome:?}"
        );
    }
}

/// Jammed: the gate comes up under a stick that leans on another in the receiver, and is too weak to
/// lift it. One with the shipped force lifts it.
#[test]
fn a_weak_gate_under_a_stick_that_cannot_go_on_jams_and_a_strong_one_does_not() {
    let outcome = |force_max_n: f64| {
        let mut spec = line(0.6096, 3, 5.0);
        spec.escapement.interlock = false;
        spec.escapement.force_max_n = force_max_n;
        feed(&spec, Hand::new(CLEAR_M, 2)).0
    };
    assert_eq!(outcome(1_000.0), Outcome::Jammed);
    assert_eq!(outcome(20_000.0), Outcome::Hung);
}

/// The emergency stop stops powered motion; the gate closes by its springs; a stick that rolls goes
/// on.
#[test]
fn the_emergency_stop_closes_the_gate_and_does_not_stop_a_rolling_stick() {
    let spec = line(0.6096, 3, 5.0);
    let mut line = Line::build(&spec);
    let feed = Controls::held([Button::Feed]);
    for _ in 0..240 {
        line.tick(&Controls::default());
    }
    while line.place(StickId(0)) == StickPlace::Held {
        line.tick(&feed);
    }
    let stopped = Controls {
        emergency_stop: true,
        held: feed.held.with(Button::ReceiverDown),
        ..feed
    };
    for _ in 0..960 {
        line.tick(&stopped);
    }
    assert_eq!(line.place(StickId(0)), StickPlace::Received);
    assert_eq!(line.gate_fractions(), [1.0; 2]);
    assert_eq!(through(&line), 1);
    assert!(
        line.receiver_is_up(),
        "the receiver moved in an emergency stop"
    );
}

/// Climbed gate: the row's blow lifts its first stick and the friction of pipe on pipe keeps it there.
#[test]
fn a_full_row_climbs_the_gate_short_of_the_double_feed_and_a_short_one_does_not() {
    let outcome = |sticks| feed(&line(0.9144, sticks, 9.5), Hand::new(CLEAR_M, 1)).0;
    assert_eq!(outcome(6), Outcome::Perched);
    assert_eq!(outcome(3), Outcome::OneStick);
}

/// What does not turn a stick that rolls, and what does.
#[test]
fn neither_unlike_rails_nor_a_late_pin_turn_a_stick_that_rolls() {
    let yaw_deg = |spec: &LineSpec| {
        let mut line = Line::build(spec);
        let mut most: f64 = 0.0;
        let mut hand = Hand::new(CLEAR_M, 1);
        run(&mut line, &mut hand, 60.0, |line, _| {
            most = most.max(deg(line.yaw_rad(StickId(0))).abs());
        })
        .expect("no fault of the simulation");
        assert_eq!(line.place(StickId(0)), StickPlace::Received);
        most
    };
    let mut unlike = line(0.6096, 1, 8.0);
    unlike.rack.far_rail.pitch_rad = rad(3.0);
    assert!(
        yaw_deg(&unlike) < 1.0,
        "unlike rails: {} deg",
        yaw_deg(&unlike)
    );
    let late = |surface| {
        let mut late = line(0.6096, 1, 5.0);
        late.rack.near_rail.surface = surface;
        late.rack.far_rail.surface = surface;
        late.faults.far.gate_late_s = 1.0;
        yaw_deg(&late)
    };
    assert!(late(Surface::Dry) < 0.5, "dry: {} deg", late(Surface::Dry));
    assert!(late(Surface::Wet) < 0.5, "wet: {} deg", late(Surface::Wet));
    // Frost takes the friction away that held it square about the other pin.
    assert!(
        late(Surface::Frosted) > 2.0,
        "frost: {} deg",
        late(Surface::Frosted)
    );
}
