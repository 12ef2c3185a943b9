//! The exclusion zone as it is kept: who is inside it, or where a loose stick can come to, while a
//! stick can move.

use crate::domain::envelope::{Adequacy, Envelope, adequacy, inside_either};
use crate::domain::rig::Rig;
use crate::domain::zone::Zone;

use super::people::{People, PersonId};

/// See the module's text.
#[derive(Clone, Debug)]
pub struct ZoneWatch {
    zone: Option<Zone>,
    envelope: Envelope,
    /// Who is inside while a stick can move.
    inside: Vec<bool>,
    /// For how long everybody has been, s.
    exposed_s: Vec<f64>,
}

impl ZoneWatch {
    /// None where there is nobody to watch, or no pipe.
    pub fn new(rig: &Rig, people: usize) -> Option<Self> {
        let stick = rig.spec().sticks.first()?;
        (people > 0).then(|| Self {
            zone: Zone::new(&rig.spec().zone.cones).ok(),
            envelope: Envelope::new(rig, &stick.pipe),
            inside: vec![false; people],
            exposed_s: vec![0.0; people],
        })
    }

    /// Somebody more is on the site.
    pub fn admit(&mut self) {
        self.inside.push(false);
        self.exposed_s.push(0.0);
    }

    /// The zone as set out; None where none is.
    pub fn zone(&self) -> Option<&Zone> {
        self.zone.as_ref()
    }

    /// Where a loose stick can come to.
    pub fn envelope(&self) -> &Envelope {
        &self.envelope
    }

    /// Whether the zone is enough for the envelope.
    pub fn adequacy(&self) -> Adequacy {
        adequacy(self.zone(), &self.envelope)
    }

    /// Whether nobody is inside, or nothing can move.
    pub fn nobody_inside(&self) -> bool {
        !self.inside.contains(&true)
    }

    /// For how long somebody has been inside while a stick could move, s.
    pub fn exposed_s(&self, person: PersonId) -> f64 {
        self.exposed_s.get(person.0).copied().unwrap_or(0.0)
    }

    /// Looks at everybody after a tick; tells who came in and who went out.
    pub fn observe(
        &mut self,
        people: &People,
        stick_can_move: bool,
        dt_s: f64,
        mut tell: impl FnMut(PersonId, bool),
    ) {
        let places = people.iter().zip(&mut self.inside).zip(&mut self.exposed_s);
        for (i, ((person, inside), exposed_s)) in places.enumerate() {
            let now = stick_can_move
                && person.is_on_foot()
                && inside_either(person.place(), self.zone.as_ref(), &self.envelope);
            if now != *inside {
                tell(PersonId(i), now);
                *inside = now;
            }
            if now {
                *exposed_s += dt_s;
            }
        }
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> impl Iterator<Item = f64> + '_ {
        let inside = self
            .inside
            .iter()
            .map(|&inside| f64::from(u8::from(inside)));
        inside.chain(self.exposed_s.iter().copied())
    }
}
