//! What a class expects of a demonstration before it sees it, and how many saw it coming.

use crate::evidence::Outcome;
use crate::scenario::Goal;

/// Votes for what will come of a run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Vote {
    choices: Vec<(Outcome, u32)>,
    closed: bool,
}

/// How a vote compares with what came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tally {
    pub came: Outcome,
    /// How many expected it, of how many.
    pub right: u32,
    pub all: u32,
}

impl Vote {
    /// The usual choices on a line with a goal: that it goes well, and how it may not.
    pub fn usual(goal: Goal) -> Self {
        let well = match goal {
            Goal::Joined => Outcome::Joined,
            Goal::OneStick => Outcome::OneStick,
            Goal::LeftOnRack => Outcome::NotFed,
        };
        Self::on([
            well,
            Outcome::Hung,
            Outcome::DoubleFeed,
            Outcome::RollOff,
            Outcome::Dropped,
            Outcome::Jammed,
            Outcome::Struck,
        ])
    }

    /// On these outcomes, each once.
    pub fn on(outcomes: impl IntoIterator<Item = Outcome>) -> Self {
        let mut choices: Vec<(Outcome, u32)> = Vec::new();
        for outcome in outcomes {
            if choices.iter().all(|(known, _)| *known != outcome) {
                choices.push((outcome, 0));
            }
        }
        Self {
            choices,
            closed: false,
        }
    }

    /// Choices in their order, each with its votes.
    pub fn choices(&self) -> &[(Outcome, u32)] {
        &self.choices
    }

    pub fn all(&self) -> u32 {
        let votes = self.choices.iter().map(|(_, votes)| *votes);
        votes.fold(0, u32::saturating_add)
    }

    /// One vote more for a choice, by a key.
    pub fn add(&mut self, choice: usize) {
        self.change(choice, |votes| votes.saturating_add(1));
    }

    /// One vote less.
    pub fn take_back(&mut self, choice: usize) {
        self.change(choice, |votes| votes.saturating_sub(1));
    }

    /// So many hands were raised for a choice.
    pub fn count(&mut self, choice: usize, hands: u32) {
        self.change(choice, |_| hands);
    }

    /// Votes count until the vote is closed.
    fn change(&mut self, choice: usize, change: impl Fn(u32) -> u32) {
        if let Some((_, votes)) = self.choices.get_mut(choice).filter(|_| !self.closed) {
            *votes = change(*votes);
        }
    }

    /// Before the run goes on, for good.
    pub fn close(&mut self) {
        self.closed = true;
    }

    pub fn is_closed(&self) -> bool {
        self.closed
    }

    /// Afterwards, once it is closed.
    pub fn tally(&self, came: Outcome) -> Option<Tally> {
        let mut choices = self.choices.iter();
        let right = choices.find(|(outcome, _)| *outcome == came);
        self.closed.then_some(Tally {
            came,
            right: right.map_or(0, |(_, votes)| *votes),
            all: self.all(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn votes_count_until_the_vote_is_closed() {
        let mut vote = Vote::usual(Goal::OneStick);
        vote.add(0);
        vote.add(0);
        vote.take_back(0);
        vote.take_back(1);
        vote.count(2, 7);
        vote.add(99);
        assert_eq!(vote.tally(Outcome::DoubleFeed), None, "it is still open");
        vote.close();
        vote.add(1);
        vote.count(2, 0);
        let tally = vote.tally(Outcome::DoubleFeed).unwrap();
        assert_eq!((tally.right, tally.all), (7, 8));
        // What nobody could choose nobody has seen coming.
        let tally = vote.tally(Outcome::Perched).unwrap();
        assert_eq!((tally.right, tally.all), (0, 8));
    }

    #[test]
    fn every_choice_stands_there_once() {
        for goal in [Goal::Joined, Goal::OneStick, Goal::LeftOnRack] {
            let vote = Vote::usual(goal);
            let outcomes: Vec<Outcome> = vote.choices().iter().map(|(o, _)| *o).collect();
            assert_eq!(Vote::on(outcomes.clone().into_iter().chain(outcomes)), vote);
        }
    }
}
