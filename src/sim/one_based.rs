//! Numbers that people and files count from 1, for `#[serde(with)]`.

use std::num::NonZeroU32;

use serde::{Deserialize, Deserializer, Serializer};

pub fn serialize<S: Serializer>(index: &usize, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_u64(*index as u64 + 1)
}

pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<usize, D::Error> {
    let number = NonZeroU32::deserialize(deserializer)?;
    Ok(number.get() as usize - 1)
}
