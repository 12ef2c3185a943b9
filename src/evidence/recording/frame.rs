//! The frames of a recording's file: each holds a chunk, and the check of each is taken over all that
//! stands before it. Nothing that is read is believed before its check is right, and nothing becomes
//! larger than is allowed.
//!
//! ```text
//! file   mark (8 bytes), version (u16), frames, [ending mark (8 bytes), check of the last frame (u64)]
//! frame  length (u32), packing (u8), payload, check (u64)
//! ```
//!
//! All numbers are little-endian. The check is XXH3 over the check before, length, packing and payload;
//! that of the first frame follows on that of mark and version. The payload is a [`Chunk`] in postcard's
//! form, plain (0) or deflated (1).

use miniz_oxide::deflate::compress_to_vec;
use miniz_oxide::inflate::decompress_to_vec_with_limit;
use xxhash_rust::xxh3::{Xxh3, xxh3_64};

use super::chunk::Chunk;

/// What a recording begins with: no text, and spoilt by whatever changes the ends of lines.
const MARK: [u8; 8] = *b"\x93CHOCK\r\n";
/// What stands behind the last frame of one that is complete.
const ENDING_MARK: [u8; 8] = *b"\x93ENDED\r\n";
/// Version of the form.
pub const FORMAT: u16 = 2;

const HEAD: usize = MARK.len() + 2;
const BEFORE: usize = 5;
const CHECK: usize = 8;
const ENDING: usize = ENDING_MARK.len() + CHECK;
/// The largest payload, packed and unpacked, bytes: a scenario's text and little more.
const LARGEST: usize = 2 * 1024 * 1024;
/// Larger than this is worth packing, bytes.
const WORTH: usize = 64;
/// How hard is packed: more takes longer and gains nothing in frames of a second.
const LEVEL: u8 = 6;

/// Puts frames together.
pub struct Writer {
    check: u64,
}

impl Writer {
    /// The beginning of a file.
    pub fn begin(into: &mut Vec<u8>) -> Self {
        into.extend(MARK);
        into.extend(FORMAT.to_le_bytes());
        Self {
            check: xxh3_64(&[MARK.as_slice(), &FORMAT.to_le_bytes()].concat()),
        }
    }

    /// A frame; the last one with what ends the file.
    pub fn put(&mut self, chunk: &Chunk, into: &mut Vec<u8>) -> Result<(), postcard::Error> {
        let plain = postcard::to_stdvec(chunk)?;
        let (packing, payload) = if plain.len() > WORTH {
            (1, compress_to_vec(&plain, LEVEL))
        } else {
            (0, plain)
        };
        let before = before(payload.len(), packing);
        self.check = check(self.check, &before, &payload);
        into.extend(before);
        into.extend(payload);
        into.extend(self.check.to_le_bytes());
        if matches!(chunk, Chunk::End(_)) {
            into.extend(ENDING_MARK);
            into.extend(self.check.to_le_bytes());
        }
        Ok(())
    }
}

fn before(length: usize, packing: u8) -> [u8; BEFORE] {
    let [a, b, c, d] = (length as u32).to_le_bytes();
    [a, b, c, d, packing]
}

fn check(last: u64, before: &[u8], payload: &[u8]) -> u64 {
    let mut hasher = Xxh3::new();
    hasher.update(&last.to_le_bytes());
    hasher.update(before);
    hasher.update(payload);
    hasher.digest()
}

/// Why there is no next chunk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// The file is no recording.
    Foreign,
    /// It is one of this version.
    OtherFormat(u16),
    /// A complete file has been changed or damaged from this byte on.
    Damaged { at: usize },
    /// What stands at this byte was never written by this program.
    Unsound { at: usize },
}

/// Takes frames apart.
pub struct Reader<'a> {
    bytes: &'a [u8],
    at: usize,
    check: u64,
}

impl<'a> Reader<'a> {
    pub fn begin(bytes: &'a [u8]) -> Result<Self, Fault> {
        let (mark, rest) = bytes.split_first_chunk().ok_or(Fault::Foreign)?;
        let (format, _) = rest.split_first_chunk().ok_or(Fault::Foreign)?;
        if *mark != MARK {
            return Err(Fault::Foreign);
        }
        match u16::from_le_bytes(*format) {
            FORMAT => Ok(Self {
                bytes,
                at: HEAD,
                check: xxh3_64(bytes.get(..HEAD).unwrap_or_default()),
            }),
            other => Err(Fault::OtherFormat(other)),
        }
    }

    /// Whether a file begins as a recording does.
    pub fn is_one(beginning: &[u8]) -> bool {
        beginning.starts_with(&MARK)
    }

    /// The check of all that has been read.
    pub fn check(&self) -> u64 {
        self.check
    }

    /// Where the next chunk begins, bytes.
    pub fn at(&self) -> usize {
        self.at
    }

    /// How many bytes have not been read.
    pub fn left(&self) -> usize {
        self.bytes.len() - self.at
    }

    /// The next chunk; none where the file ends, or where its tail was never wholly written.
    pub fn chunk(&mut self) -> Result<Option<Chunk>, Fault> {
        let at = self.at;
        let rest = self.bytes.get(at..).unwrap_or_default();
        let Some((packing, payload, length)) = self.whole_frame(rest) else {
            return if self.was_ended() {
                Err(Fault::Damaged { at })
            } else {
                Ok(None)
            };
        };
        let unsound = Fault::Unsound { at };
        let inflated;
        let plain: &[u8] = match packing {
            0 => payload,
            1 => {
                let unpacked = decompress_to_vec_with_limit(payload, LARGEST);
                inflated = unpacked.map_err(|_| unsound)?;
                &inflated
            }
            _ => return Err(unsound),
        };
        let (chunk, over) = postcard::take_from_bytes(plain).map_err(|_| unsound)?;
        if !over.is_empty() {
            return Err(unsound);
        }
        if matches!(chunk, Chunk::End(_)) {
            let ending = [ENDING_MARK, self.check.to_le_bytes()].concat();
            let behind = rest.get(length..).unwrap_or_default();
            if behind.len() < ending.len() && ending.starts_with(behind) {
                return Ok(None);
            }
            if behind != ending {
                let at = at + length;
                return Err(Fault::Damaged { at });
            }
            self.at = self.bytes.len();
        } else {
            self.at += length;
        }
        Ok(Some(chunk))
    }

    /// Packing, payload and length of the frame that the bytes begin with, where it is whole.
    fn whole_frame(&mut self, rest: &'a [u8]) -> Option<(u8, &'a [u8], usize)> {
        let (before, after) = rest.split_first_chunk::<BEFORE>()?;
        let [a, b, c, d, packing] = *before;
        let length = u32::from_le_bytes([a, b, c, d]) as usize;
        let payload = after.get(..length).filter(|_| length <= LARGEST)?;
        let told = after.get(length..)?.first_chunk::<CHECK>()?;
        let found = check(self.check, before, payload);
        if found.to_le_bytes() != *told {
            return None;
        }
        self.check = found;
        Some((packing, payload, BEFORE + length + CHECK))
    }

    /// Whether the file ends as one that is complete.
    fn was_ended(&self) -> bool {
        let ending = self.bytes.len().checked_sub(ENDING);
        let ending = ending.and_then(|at| self.bytes.get(at..));
        ending.is_some_and(|ending| ending.starts_with(&ENDING_MARK))
    }
}
