//! Looks on a thread of its own which runs are going on.

use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::Duration;

use crate::session::going::{Going, Lookout};
use crate::session::store::Store;

const LOOK_EVERY: Duration = Duration::from_secs(1);

/// See the module's text. It ends when it is dropped.
pub struct Watch {
    told: Receiver<Vec<Going>>,
}

impl Watch {
    pub fn new(store: Store) -> Self {
        let (tell, told) = channel();
        thread::spawn(move || look(&store, &tell));
        Self { told }
    }

    /// What was seen last, where anything new was.
    pub fn hear(&self) -> Option<Vec<Going>> {
        self.told.try_iter().last()
    }
}

fn look(store: &Store, tell: &Sender<Vec<Going>>) {
    let mut lookout = Lookout::default();
    while tell.send(lookout.look(store)).is_ok() {
        thread::sleep(LOOK_EVERY);
    }
}
