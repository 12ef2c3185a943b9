//! What is to be run: a scenario with a seed, by whom, and in which mode. What comes before a run: the
//! line as it is found, and its set-out.

use std::sync::Arc;

use jiff::Timestamp;

use super::mode::Mode;
use super::run::{Driver, Run};
use crate::domain::set_out::{SetOut, SetOutFault};
use crate::domain::spec::LineSpec;
use crate::operator::Member;
use crate::scenario::{Loaded, Scenario};

/// See the module's text.
#[derive(Clone, Debug)]
pub struct Course {
    /// The name of the scenario's file, without its ending.
    pub id: String,
    pub loaded: Arc<Loaded>,
    pub seed: u64,
    pub mode: Mode,
    /// Who is at the pendant, if they have said so.
    pub trainee: Option<String>,
}

/// By what a run is known in the records.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ticket {
    /// The name of its files, without their ending.
    pub id: String,
    /// When it began.
    pub at: Timestamp,
}

impl Course {
    /// A scenario with its own seed.
    pub fn new(id: &str, loaded: Arc<Loaded>, mode: Mode) -> Self {
        Self {
            id: id.to_owned(),
            seed: loaded.scenario.seed,
            loaded,
            mode,
            trainee: None,
        }
    }

    pub fn scenario(&self) -> &Scenario {
        &self.loaded.scenario
    }

    /// The line before anything is set out on it.
    pub fn as_found(&self) -> LineSpec {
        self.scenario().line_for(self.seed)
    }

    /// Whether the rack is still empty when it is set out.
    pub fn is_open(&self) -> bool {
        self.scenario().set_out_open
    }

    /// Begins the run on the line as the trainee has set it out.
    ///
    /// # Errors
    /// What cannot be set so.
    pub fn set_out(self, set_out: SetOut) -> Result<Run, SetOutFault> {
        Run::new(self, set_out, Driver::Hands)
    }

    /// Begins a run that a member of the roster sets out and drives.
    ///
    /// # Errors
    /// What cannot be set as they want it.
    pub fn demonstrate(self, member: &Member) -> Result<Run, SetOutFault> {
        let operator = member.operator();
        let set_out = operator.set_out(&self.as_found(), self.is_open());
        let driver = Driver::Operator {
            name: member.name,
            operator,
        };
        Run::new(self, set_out, driver)
    }
}
