//! The state of a line part by part: where two lines that should be alike are not, they say which part
//! it is that is off.

use serde::{Deserialize, Serialize};
use xxhash_rust::xxh3::Xxh3;

use super::{Line, Loader, ZoneWatch};
use crate::sim::world::StickId;

/// A part of a line that moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Body {
    Stick(StickId),
    Rack,
    Escapement,
    Receiver,
    Cradles,
    Machine,
    Loader,
    Chocks,
    /// And what the instructor has brought about.
    People,
    /// Who is inside the zone, and for how long.
    Zone,
}

impl Body {
    /// All but the sticks.
    const MACHINERY: [Self; 9] = [
        Self::Rack,
        Self::Escapement,
        Self::Receiver,
        Self::Cradles,
        Self::Machine,
        Self::Loader,
        Self::Chocks,
        Self::People,
        Self::Zone,
    ];

    /// The bodies of a line with so many sticks, in the order of [`Line::digests`].
    pub fn all(sticks: usize) -> impl Iterator<Item = Self> {
        let sticks = (0..sticks).map(|stick| Self::Stick(StickId(stick)));
        sticks.chain(Self::MACHINERY)
    }
}

impl Line {
    /// A digest of the state of every body, in the order of [`Body::all`].
    pub fn digests(&self) -> Vec<u32> {
        let sticks = self.world.sticks();
        let mut digests: Vec<u32> = sticks
            .map(|stick| short(self.world.stick_hash(stick)))
            .collect();
        digests.extend([
            digest(self.rack.state()),
            digest(self.escapement.state()),
            digest(self.receiver.state()),
            digest(self.cradles.state()),
            digest(self.machine.state()),
            digest(self.loader.iter().flat_map(Loader::state)),
            digest(self.chocks.state()),
            digest(self.people.state().chain(self.upsets.state())),
            digest(self.watch.iter().flat_map(ZoneWatch::state)),
        ]);
        digests
    }
}

fn digest(state: impl IntoIterator<Item = f64>) -> u32 {
    let mut hasher = Xxh3::new();
    for number in state {
        hasher.update(&number.to_bits().to_le_bytes());
    }
    short(hasher.digest())
}

fn short(hash: u64) -> u32 {
    (hash >> 32) as u32
}
