//! Files that no program of ours would write: each is one clear fault, none is believed, none panics.

use miniz_oxide::deflate::compress_to_vec;
use miniz_oxide::inflate::decompress_to_vec_with_limit;
use proptest::prelude::*;

use super::chunk::{Lengths, Marked, Stretch};
use super::poses::Moved;
use super::*;
use crate::evidence::Figures;
use crate::judge::{Logger, Noted, judge};
use crate::operator::Ending;
use crate::sim::controls::{Button, Controls};
use crate::sim::line::{Event, EventKind};
use crate::sim::world::StickId;

const SMALL: &str = "(format: 1, name: \"Small\", pipe: (size: Ips(24), wall: Dr(17)), \
    row: (sticks: 2), time_limit_s: 5)";

/// A short run in which a stick is fed.
fn small() -> Recording {
    let scenario = scenario::parse("small", SMALL).unwrap().scenario;
    let set_out = SetOut::default();
    let spec = set_out.applied(&scenario.line_for(1), scenario.set_out_open);
    let spec = spec.unwrap();
    let mut line = Line::build(&spec);
    let (mut logger, mut recorder) = (Logger::default(), Recorder::default());
    while line.tick_count() < 600 {
        let held = (line.tick_count() > 20).then_some(Button::Feed);
        let controls = Controls::held(held);
        line.tick(&controls);
        logger.observe(&line, &controls);
        recorder.observe(&line);
    }
    let log = logger.finish(&line, Ending::BrokenOff);
    let verdict = judge(&scenario, &spec, &log);
    Recording {
        head: Head::of(SMALL, 1, "feeder", &set_out),
        log,
        states: recorder.states_to(&line),
        breaks: Breaks::default(),
        done: Some(500),
        outcome: Outcome::of(&line, Ending::BrokenOff, &Figures::of(&line)),
        scored: Some(Scored::from(&verdict)),
        checksum: None,
        cut_short: None,
    }
}

fn read(bytes: &[u8]) -> Result<Recording, RecordingError> {
    Recording::read(bytes)
}

fn written(chunks: &[Chunk]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut writer = Writer::begin(&mut bytes);
    for chunk in chunks {
        writer.put(chunk, &mut bytes).unwrap();
    }
    bytes
}

/// The payloads of a file, unpacked.
fn payloads(bytes: &[u8]) -> Vec<Vec<u8>> {
    let mut rest = &bytes[10..];
    let mut payloads = Vec::new();
    while rest.len() > 16 {
        let length = u32::from_le_bytes(rest[..4].try_into().unwrap()) as usize;
        let payload = &rest[5..5 + length];
        payloads.push(match rest[4] {
            0 => payload.to_vec(),
            _ => decompress_to_vec_with_limit(payload, 1 << 24).unwrap(),
        });
        rest = &rest[5 + length + 8..];
    }
    payloads
}

/// A file with these payloads and right checks.
fn sealed(payloads: &[(u8, Vec<u8>)], ended: bool) -> Vec<u8> {
    let mut bytes = Vec::new();
    Writer::begin(&mut bytes);
    let mut last = xxhash_rust::xxh3::xxh3_64(&bytes);
    for (packing, payload) in payloads {
        let mut frame = (payload.len() as u32).to_le_bytes().to_vec();
        frame.push(*packing);
        frame.extend(payload);
        let checked = [last.to_le_bytes().as_slice(), &frame].concat();
        last = xxhash_rust::xxh3::xxh3_64(&checked);
        bytes.extend(frame);
        bytes.extend(last.to_le_bytes());
    }
    if ended {
        bytes.extend(b"\x93ENDED\r\n");
        bytes.extend(last.to_le_bytes());
    }
    bytes
}

#[test]
fn what_is_written_is_read() {
    let recording = small();
    let bytes = recording.to_bytes().unwrap();
    let again = read(&bytes).unwrap();
    assert!(again.checksum.is_some());
    let checksum = again.checksum;
    assert_eq!(
        again,
        Recording {
            checksum,
            ..recording
        }
    );
    let resealed: Vec<_> = payloads(&bytes)
        .into_iter()
        .map(|plain| (0, plain))
        .collect();
    assert_eq!(read(&sealed(&resealed, true)).unwrap().log, again.log);
    assert!(again.verify(|_| ()).unwrap().is_verified());
}

/// Every byte of a file, changed in every bit and all at once.
#[test]
fn a_changed_byte_is_seen_wherever_it_stands() {
    let bytes = small().to_bytes().unwrap();
    let mut changed = bytes.clone();
    for at in 0..bytes.len() {
        for change in [1, 2, 4, 8, 16, 32, 64, 128, 255] {
            changed[at] ^= change;
            assert!(read(&changed).is_err(), "byte {at} changed by {change:#x}");
            changed[at] ^= change;
        }
    }
    let longer = [bytes.as_slice(), b"\0"].concat();
    assert!(read(&longer).is_err());
}

/// Cut off anywhere, it is read to its last whole frame and says so.
#[test]
fn a_tail_that_is_missing_is_told() {
    let recording = small();
    let bytes = recording.to_bytes().unwrap();
    let (mut least, mut last) = (None, 0);
    for cut in 0..bytes.len() {
        match read(&bytes[..cut]) {
            Err(_) => assert_eq!(least, None, "cut at {cut}"),
            Ok(there) => {
                least = least.or(Some(cut));
                let told = there.cut_short.as_ref().expect("it is told");
                assert!(there.log.ticks >= last && told.ticks >= there.log.ticks);
                last = there.log.ticks;
                assert!(there.scored.is_none());
            }
        }
    }
    assert_eq!(last, 600);
    // What is no more than garbage behind what was written is cut away too.
    let half = &bytes[..bytes.len() / 2];
    let torn = read(&[half, &[0; 100]].concat()).unwrap();
    assert!(torn.cut_short.unwrap().lost_bytes >= 100);
    assert!(torn.log.ticks > 0);
}

#[test]
fn foreign_and_newer_files_are_told_apart() {
    for foreign in [b"".as_slice(), b"{}", b"\x93CHOCK\n\n\x01\0", &[0; 4096]] {
        let error = read(foreign).unwrap_err();
        assert!(matches!(error, RecordingError::NotARecording), "{error:?}");
    }
    let mut newer = small().to_bytes().unwrap();
    newer[8] = 7;
    assert!(matches!(read(&newer), Err(RecordingError::OtherFormat(7))));
    let endless = std::io::repeat(0);
    assert!(matches!(
        Recording::read(endless),
        Err(RecordingError::TooLarge)
    ));
}

/// Rightly sealed, and not to be believed all the same.
#[test]
fn what_cannot_be_is_refused() {
    let head = Chunk::Head(Box::new(small().head));
    let head_payload = payloads(&written(std::slice::from_ref(&head))).remove(0);
    let unsound = |bytes: &[u8]| {
        let error = read(bytes).unwrap_err();
        assert!(matches!(error, RecordingError::Unsound { .. }), "{error:?}");
    };
    // A frame that unpacks to more than there is room for, and one that does not unpack.
    let bomb = compress_to_vec(&vec![0; 64 << 20], 9);
    unsound(&sealed(&[(0, head_payload.clone()), (1, bomb)], false));
    unsound(&sealed(
        &[(0, head_payload.clone()), (1, vec![255; 40])],
        false,
    ));
    unsound(&sealed(
        &[(0, head_payload.clone()), (9, Vec::new())],
        false,
    ));
    unsound(&sealed(&[(0, head_payload.clone()), (0, vec![200])], false));
    // A list that says it is endless, a chunk with something behind it.
    let endless = [2, 0, 255, 255, 255, 255, 255, 255, 255, 255, 127].to_vec();
    unsound(&sealed(&[(0, head_payload.clone()), (0, endless)], false));
    let longer = [head_payload.as_slice(), &[0]].concat();
    unsound(&sealed(&[(0, longer)], false));
    // A frame that says it is longer than any.
    let mut long = written(std::slice::from_ref(&head));
    long.extend(u32::MAX.to_le_bytes());
    assert_eq!(read(&long).unwrap().cut_short.unwrap().lost_bytes, 4);
    let stretch = |stretch: Stretch| Chunk::Stretch(stretch);
    let event = Noted {
        event: Event {
            tick: 1,
            kind: EventKind::Stalled,
        },
        at: None,
    };
    let moved = |tick, stick| Moved {
        tick,
        sticks: vec![(stick, [1; 7])],
    };
    for chunks in [
        vec![head.clone()],
        vec![Chunk::Done(u64::MAX)],
        vec![Chunk::Controls(ControlChange {
            tick: 0,
            controls: Controls::default(),
        })],
        vec![stretch(Stretch {
            to: 241,
            ..Stretch::default()
        })],
        vec![stretch(Stretch {
            to: 100,
            events: vec![event; 3000],
            ..Stretch::default()
        })],
        vec![stretch(Stretch {
            to: 100,
            poses: vec![moved(8, 0), moved(8, 0)],
            ..Stretch::default()
        })],
        vec![stretch(Stretch {
            to: 100,
            poses: vec![moved(8, 1)],
            ..Stretch::default()
        })],
        vec![stretch(Stretch {
            to: 240,
            marks: vec![Marked {
                tick: 240,
                hash: 0,
                digests: vec![(5, 1)],
            }],
            ..Stretch::default()
        })],
        vec![Chunk::Back {
            tick: 0,
            kept: Lengths {
                poses: 1,
                ..Lengths::default()
            },
            standing: Standing::default(),
        }],
        vec![Chunk::Breaks(Breaks {
            count: 1,
            total_s: f64::NAN,
        })],
    ] {
        unsound(&written(&[vec![head.clone()], chunks].concat()));
    }
    unsound(&written(&[Chunk::Done(1)]));
    // Numbers that are none, sticks that there are not.
    let mut recording = small();
    recording.log.samples[0].rack_load_n = f32::NAN;
    assert!(matches!(recording.as_run(), Err(RecordingError::Log)));
    let mut recording = small();
    recording.log.exposed_s = vec![0.0; 99];
    assert!(matches!(recording.as_run(), Err(RecordingError::Log)));
    let mut recording = small();
    recording.log.events.push(Noted {
        event: Event {
            tick: 600,
            kind: EventKind::Lost { stick: StickId(2) },
        },
        at: None,
    });
    assert!(matches!(recording.as_run(), Err(RecordingError::Log)));
}

/// All of a run is written in one go where it is gone on with from a moment: torn anywhere, what is left is
/// no departure.
#[test]
fn what_is_torn_inside_of_one_writing_is_verified_as_far_as_it_goes() {
    let bytes = small_bytes();
    let (mut ticks, mut cuts) = (Vec::new(), 0);
    for length in 0..bytes.len() {
        let Ok(recording) = read(&bytes[..length]) else {
            continue;
        };
        if recording.cut_short.is_none() || ticks.last() == Some(&recording.log.ticks) {
            continue;
        }
        ticks.push(recording.log.ticks);
        let verification = recording.verify(|_| ()).unwrap();
        assert!(verification.is_verified(), "{length}: {verification:?}");
        cuts += 1;
    }
    assert!(cuts > 2, "at {ticks:?}");
}

proptest! {
    #![proptest_config(ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::with_cases(300)
    })]

    /// Whatever stands in a file whose checks are right: it is read or refused.
    #[test]
    fn rightly_sealed_nonsense_is_read_or_refused(
        changes in proptest::collection::vec((any::<u16>(), any::<u16>(), any::<u8>()), 1..4),
        ended in any::<bool>(),
    ) {
        let bytes = small_bytes();
        let mut payloads = payloads(bytes);
        for (chunk, at, to) in changes {
            let chunks = payloads.len();
            let payload = &mut payloads[usize::from(chunk) % chunks];
            let at = usize::from(at) % payload.len();
            payload[at] = to;
        }
        let packed: Vec<_> = payloads.into_iter().map(|plain| (0, plain)).collect();
        if let Ok(recording) = read(&sealed(&packed, ended)) {
            let _ = recording.judged();
            if recording.log.ticks <= 1200 {
                let _ = recording.verify(|_| ());
            }
        }
    }

    #[test]
    fn changed_and_cut_files_are_read_or_refused(
        changes in proptest::collection::vec((any::<u32>(), any::<u8>()), 0..6),
        cut in any::<u32>(),
    ) {
        let mut bytes = small_bytes().to_vec();
        for (at, to) in changes {
            let at = at as usize % bytes.len();
            bytes[at] = to;
        }
        bytes.truncate(cut as usize % (bytes.len() + 1));
        let _ = read(&bytes);
    }
}

fn small_bytes() -> &'static [u8] {
    static BYTES: std::sync::OnceLock<Vec<u8>> = std::sync::OnceLock::new();
    BYTES.get_or_init(|| small().to_bytes().unwrap())
}
