//! What would you have done? The choices are what the judge has tried by running the line again, in an
//! order drawn by the seed; right is what averted the outcome there. Then the answer.

use super::Story;
use crate::judge::{Act, Deed, Instead, Part, Rerun, Rescue, Try, explain, time_s};
use crate::texts::Message;
use crate::words;

/// Choices of a question, and how many of them are right, at most.
const CHOICES_MOST: usize = 4;
const RIGHT_MOST: usize = 2;
/// With fewer wrong ones than this, what waiting would have come to is tried as well.
const WRONG_LEAST: usize = 2;
/// How long before the outcome rescues are tried where none has averted it, s.
const LATE_S: f64 = 2.0;

/// See the module's text. Free words are an answer too: they are kept, not marked.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    pub asked: Message,
    pub choices: Vec<Choice>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    pub said: Message,
    /// Run again with it, the outcome did not come.
    pub right: bool,
}

/// The answer: act, consequence, right act, in this order.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    pub act: Message,
    pub consequence: Vec<Message>,
    pub right: Vec<Message>,
}

impl Story {
    /// The question after the story, its choices shuffled by a seed.
    pub fn question(&self, rerun: &Rerun, seed: u64) -> Question {
        let (mut right, mut wrong): (Vec<Choice>, Vec<Choice>) = tried(&self.inquiry.tries)
            .into_iter()
            .chain(self.rescued(rerun))
            .partition(|choice| choice.right);
        if wrong.len() < WRONG_LEAST && self.told_act.tick > 0 {
            let waits = tried(&rerun.waits(&self.told, &self.told_act)).into_iter();
            wrong.extend(waits.filter(|choice| !choice.right));
        }
        thin(&mut right, RIGHT_MOST);
        wrong.retain(|choice| right.iter().all(|other| other.said != choice.said));
        thin(&mut wrong, CHOICES_MOST - right.len());
        let mut choices = right;
        choices.append(&mut wrong);
        shuffle(&mut choices, seed);
        Question {
            asked: "story-question".into(),
            choices,
        }
    }

    /// Rescues at the last chance, or late where there was none.
    fn rescued(&self, rerun: &Rerun) -> Vec<Choice> {
        let late = (LATE_S / time_s(1)) as u64;
        let tick = self
            .inquiry
            .last_chance
            .map_or(self.told.tick.saturating_sub(late).max(1), |chance| {
                chance.tick
            });
        let rescues = rerun.rescues(&self.told, tick).into_iter();
        rescues
            .map(|(rescue, right)| Choice {
                said: rescued(rescue, tick),
                right,
            })
            .collect()
    }

    /// The answer to it.
    pub fn answer(&self) -> Answer {
        let explained = explain(self.told.kind);
        let act = self.act.captions.first().cloned();
        let averting = self.inquiry.tries.iter();
        let mut averting: Vec<&Try> = averting
            .filter(|tried| tried.averts == Some(true))
            .collect();
        // The same at another moment is told once.
        averting.dedup_by_key(|tried| tried.instead);
        averting.truncate(RIGHT_MOST);
        let mut right: Vec<Message> = averting
            .iter()
            .map(|tried| otherwise(&tried.act, tried.instead))
            .collect();
        right.push(explained.right);
        Answer {
            act: act.unwrap_or_else(|| self.told.act.said()),
            consequence: vec![
                Message::new("line-fact").with("fact", self.told.fact.clone()),
                explained.why,
            ],
            right,
        }
    }
}

/// Acts that were done otherwise when the line was run again; the same at another moment counts once.
fn tried(tries: &[Try]) -> Vec<Choice> {
    let mut decided: Vec<(&Try, bool)> = Vec::new();
    for one in tries {
        let Some(right) = one.averts else { continue };
        let same = |(known, also): &(&Try, bool)| {
            (known.instead, known.act.deed, *also) == (one.instead, one.act.deed, right)
        };
        if !decided.iter().any(same) {
            decided.push((one, right));
        }
    }
    decided
        .into_iter()
        .map(|(tried, right)| Choice {
            said: otherwise(&tried.act, tried.instead),
            right,
        })
        .collect()
}

/// Keeps so many different ones, spread over all.
fn thin(choices: &mut Vec<Choice>, most: usize) {
    let mut different: Vec<Choice> = Vec::new();
    for choice in choices.drain(..) {
        if different.iter().all(|known| known.said != choice.said) {
            different.push(choice);
        }
    }
    let all = different.len();
    let kept = different
        .into_iter()
        .enumerate()
        .filter(|(i, _)| all <= most || (i * most) % all < most)
        .map(|(_, choice)| choice);
    choices.extend(kept.take(most));
}

/// Puts things into an order drawn by a seed (Fisher and Yates, with a linear congruential generator).
pub fn shuffle<T>(things: &mut [T], seed: u64) {
    let mut state = seed ^ 0x9E37_79B9_7F4A_7C15;
    for last in (1..things.len()).rev() {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let other = ((state >> 33) as usize) % (last + 1);
        things.swap(last, other);
    }
}

/// What was done instead of an act, and when.
fn otherwise(act: &Act, instead: Instead) -> Message {
    let said = Message::new(match instead {
        Instead::NotDone => return at(act.tick, not_done(act.deed)),
        Instead::SetRight => return at(act.tick, set_right(act.deed)),
        Instead::ReceiverReady => "instead-receiver-ready",
        Instead::RowStill => "instead-row-still",
        Instead::PeopleOut => "instead-people-out",
        Instead::StickStill => "instead-stick-still",
        Instead::Chocked => "instead-chocked",
        Instead::FeedHeld => "instead-feed-held",
        Instead::BothLifts => "instead-both-lifts",
        Instead::StopsHeeded => "instead-stops-heeded",
        Instead::ExpertGoesOn => "instead-in-order",
    });
    at(act.tick, said)
}

fn at(tick: u64, instead: Message) -> Message {
    if tick == 0 {
        Message::new("choice-before").with("instead", instead)
    } else {
        Message::new("choice-at")
            .measured("time", time_s(tick), 1)
            .with("instead", instead)
    }
}

fn not_done(deed: Deed) -> Message {
    match deed {
        Deed::Pressed(button) => {
            Message::new("instead-not-pressed").with("button", words::button(button))
        }
        Deed::Called(call) => Message::new("instead-not-said").with("call", words::call(call)),
        _ => "instead-nothing".into(),
    }
}

fn set_right(deed: Deed) -> Message {
    let what = match deed {
        Deed::LeftFault(item) => words::item(item),
        Deed::LeftAsFound(part) => Message::new(match part {
            Part::Pitch => "part-pitch",
            Part::SizeSetting => "part-size-setting",
            Part::Pins => "part-pins",
            Part::Zone => "part-zone",
            Part::Pads => "part-pads",
            Part::Interlock => "part-interlock",
            Part::Load => "part-load",
            Part::Machine => "part-machine",
        }),
        _ => return "instead-in-order".into(),
    };
    Message::new("instead-set-right").with("what", what)
}

fn rescued(rescue: Rescue, tick: u64) -> Message {
    at(tick, rescue.said())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shuffle_keeps_all_and_depends_on_the_seed() {
        let orders: Vec<Vec<u32>> = (0..40)
            .map(|seed| {
                let mut things = [1, 2, 3, 4];
                shuffle(&mut things, seed);
                let mut sorted = things;
                sorted.sort_unstable();
                assert_eq!(sorted, [1, 2, 3, 4]);
                things.to_vec()
            })
            .collect();
        // The first comes to every place.
        for place in 0..4 {
            assert!(orders.iter().any(|order| order[place] == 1), "{place}");
        }
    }

    #[test]
    fn of_many_choices_some_are_kept_from_all_over() {
        let choice = |i: u64| Choice {
            said: Message::new("choice-before").with("instead", i),
            right: false,
        };
        let mut choices: Vec<Choice> = (0..9).chain(0..9).map(choice).collect();
        thin(&mut choices, 3);
        assert_eq!(choices, [0, 3, 6].map(choice));
    }
}
