//! Ids that follow from a name.

use sha1_smol::Sha1;
use uuid::{Builder, Uuid};

/// The id of a name in a space of names: version 5 of RFC 9562. `uuid` makes it too, with a feature of
/// its own that the engine would have to be built anew for.
pub fn uid_named(space: Uuid, name: &[u8]) -> Uuid {
    let mut hash = Sha1::new();
    hash.update(space.as_bytes());
    hash.update(name);
    let mut bytes = [0; 16];
    bytes.copy_from_slice(&hash.digest().bytes()[..16]);
    Builder::from_sha1_bytes(bytes).into_uuid()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The example of RFC 9562, A.4.
    #[test]
    fn it_is_the_one_of_the_standard() {
        let made = uid_named(Uuid::NAMESPACE_DNS, b"www.example.com");
        assert_eq!(made.to_string(), "2ed6657d-e927-568b-95e1-2665a8aea6a2");
    }
}
