//! What waits in the store to be sent, and how far it has come. What is stated is fixed when it is put
//! here; a correction later on withdraws it and states anew.

use jiff::Timestamp;
use rusqlite::Connection;
use uuid::Uuid;

use super::statement::{Stated, about, voiding};
use crate::records::attempts::{read_kept, seq_of};
use crate::records::error::RecordsError;
use crate::records::people::{ClassId, uid_in};
use crate::records::sql;
use crate::records::store::Records;

/// Attempts that are put into the queue in one go.
const AT_ONCE: usize = 500;

/// How far a statement has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum State {
    Sent,
    /// The record store does not take it.
    Refused,
}

/// An attempt whose statements are not in the queue.
struct ToState {
    uid: Uuid,
    revision: String,
    person: Option<Uuid>,
    is_void: bool,
}

impl Records {
    /// Statements about all attempts of people with a name, of a class or at all, as a list; and how
    /// many attempts there are without a name, about which nothing can be stated.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn statements(
        &self,
        class: Option<ClassId>,
    ) -> Result<(Vec<serde_json::Value>, u64), RecordsError> {
        // There is no endpoint of no name: nothing is in its queue.
        let to_state = self.to_state("", class)?;
        let (mut bodies, mut nobodys) = (Vec::new(), 0);
        for it in to_state.iter().filter(|it| !it.is_void) {
            let kept = read_kept(&self.db, it.uid).map_err(self.fault())?;
            match (kept, it.person) {
                (Some(kept), Some(person)) => {
                    let stated = about(&kept, person, &it.revision);
                    bodies.extend(stated.into_iter().map(|stated| stated.body));
                }
                _ => nobodys += 1,
            }
        }
        Ok((bodies, nobodys))
    }

    /// Puts into the queue for a record store what is not there yet. Returns how many attempts have
    /// nobody's name.
    pub(super) fn enqueue(
        &mut self,
        endpoint: &str,
        class: Option<ClassId>,
    ) -> Result<u64, RecordsError> {
        let to_state = self.to_state(endpoint, class)?;
        let fault = self.fault();
        let store = self.uid();
        for some in to_state.chunks(AT_ONCE) {
            self.as_one(|db| {
                for it in some {
                    put(db, endpoint, it, store).map_err(&fault)?;
                }
                Ok(())
            })?;
        }
        let nobodys = to_state
            .iter()
            .filter(|it| it.person.is_none() && !it.is_void);
        Ok(nobodys.count() as u64)
    }

    fn to_state(
        &self,
        endpoint: &str,
        class: Option<ClassId>,
    ) -> Result<Vec<ToState>, RecordsError> {
        let fault = self.fault();
        let mut query = self.db.prepare(sql::TO_STATE).map_err(&fault)?;
        let rows = query.query_map((endpoint, class.map(|class| class.0)), |row| {
            let person: Option<String> = row.get(2)?;
            Ok(ToState {
                uid: uid_in(row, 0)?,
                revision: row.get(1)?,
                person: person.is_some().then(|| uid_in(row, 2)).transpose()?,
                is_void: row.get(3)?,
            })
        });
        rows.and_then(Iterator::collect).map_err(fault)
    }

    /// What waits, the longest first.
    pub(super) fn waiting(
        &self,
        endpoint: &str,
        most: usize,
    ) -> Result<Vec<(String, String)>, RecordsError> {
        let fault = self.fault();
        let mut query = self.db.prepare_cached(sql::WAITING).map_err(&fault)?;
        let rows = query.query_map((endpoint, most as i64), |row| {
            Ok((row.get(0)?, row.get(1)?))
        });
        rows.and_then(Iterator::collect).map_err(fault)
    }

    /// How many statements wait for a record store.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn waiting_for(&self, endpoint: &str) -> Result<u64, RecordsError> {
        let count = self
            .db
            .query_row(sql::WAITING_COUNT, [endpoint], |row| row.get::<_, i64>(0));
        count.map(i64::unsigned_abs).map_err(self.fault())
    }

    /// They are about to be sent: from here on they may be there, whatever comes back.
    pub(super) fn are_tried(&mut self, endpoint: &str, uids: &[&str]) -> Result<(), RecordsError> {
        let fault = self.fault();
        self.as_one(|db| {
            for uid in uids {
                db.execute(sql::STATEMENT_TRIED, (endpoint, uid))
                    .map_err(&fault)?;
            }
            Ok(())
        })
    }

    pub(super) fn are_settled(
        &mut self,
        endpoint: &str,
        uids: &[&str],
        state: State,
        answer: Option<&str>,
    ) -> Result<(), RecordsError> {
        let fault = self.fault();
        let state = match state {
            State::Sent => "sent",
            State::Refused => "refused",
        };
        self.as_one(|db| {
            for uid in uids {
                let row = (endpoint, uid, state, answer);
                db.execute(sql::STATEMENT_SETTLED, row).map_err(&fault)?;
            }
            Ok(())
        })
    }
}

/// Puts the statements about one attempt into the queue, behind what withdraws those before them.
fn put(db: &Connection, endpoint: &str, it: &ToState, store: Uuid) -> rusqlite::Result<()> {
    let (Some(seq), Some(kept)) = (seq_of(db, it.uid)?, read_kept(db, it.uid)?) else {
        return Ok(());
    };
    let add = |stated: &Stated| {
        let (uid, body) = (stated.uid.to_string(), stated.body.to_string());
        let row = (endpoint, uid, seq, &it.revision, body, "waiting");
        db.execute(sql::STATEMENT_ADD, row).map(|_| ())
    };
    let mut query = db.prepare_cached(sql::STATEMENTS_BEFORE)?;
    let before = query.query_map((endpoint, seq, &it.revision), |row| {
        Ok((
            uid_in(row, 0)?,
            row.get::<_, String>(1)?,
            row.get::<_, i64>(2)?,
        ))
    })?;
    let before: Vec<(Uuid, String, i64)> = before.collect::<Result<_, _>>()?;
    for (uid, state, tries) in before {
        let may_be_there = state == "sent" || (state == "waiting" && tries > 0);
        if may_be_there {
            add(&voiding(uid, store, Timestamp::now()))?;
        } else {
            db.execute(sql::STATEMENT_VOID, (endpoint, uid.to_string()))?;
        }
    }
    if let Some(person) = it.person {
        for stated in about(&kept, person, &it.revision) {
            add(&stated)?;
        }
    }
    Ok(())
}
