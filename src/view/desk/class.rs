//! A class that predicts what will come of a demonstration, before it watches, and after.

use bevy_egui::egui::Ui;

use crate::evidence::Outcome;
use crate::scenario::Goal;
use crate::session::vote::Vote;
use crate::texts::{Message, Texts};
use crate::view::panels::vote;

/// The votes of a class.
pub struct Class {
    vote: Vote,
}

/// What was decided on the screen of the votes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decided {
    Go,
    Back,
}

impl Class {
    pub fn new(goal: Goal) -> Self {
        Self {
            vote: Vote::usual(goal),
        }
    }

    /// `came` is what has come of the run, once it is over.
    pub fn show(&mut self, ui: &mut Ui, texts: &Texts, came: Option<Outcome>) -> Option<Decided> {
        let choices = self.vote.choices();
        let model = vote::Model {
            question: match came {
                Some(came) => texts.say(&came.headline()),
                None => texts.say(&Message::new("vote-question")),
            },
            came: came.and_then(|came| choices.iter().position(|(choice, _)| *choice == came)),
            choices: choices
                .iter()
                .map(|(choice, votes)| vote::Choice {
                    text: texts.say(&choice.headline()),
                    votes: *votes,
                })
                .collect(),
        };
        match vote::show(ui, texts, &model)? {
            vote::Action::Vote { choice, by } if came.is_none() => {
                for _ in 0..by.abs() {
                    if by > 0 {
                        self.vote.add(choice);
                    } else {
                        self.vote.take_back(choice);
                    }
                }
                None
            }
            vote::Action::Vote { .. } => None,
            vote::Action::Go => {
                self.vote.close();
                Some(Decided::Go)
            }
            vote::Action::Back => Some(Decided::Back),
        }
    }
}
