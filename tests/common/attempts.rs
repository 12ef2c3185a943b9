//! Attempts for the tests of the records.

use chockline::domain::finding::FindingKind;
use chockline::evidence::Outcome;
use chockline::operator::Ending;
use chockline::records::{Attempt, Found, uid_named};
use jiff::Timestamp;
use uuid::Uuid;

/// Kinds that a class of beginners comes to.
const KINDS: [FindingKind; 4] = [
    FindingKind::NoHorn,
    FindingKind::WrongSetting,
    FindingKind::HardSeat,
    FindingKind::DoubleFeed,
];

/// The attempt of a number: the same every time. Every third is passed.
pub fn attempt(number: u64, trainee: Option<&str>) -> Attempt {
    let passed = number.is_multiple_of(3);
    let begun_s = 1_770_000_000 + 600 * number as i64;
    Attempt {
        uid: uid_named(Uuid::NAMESPACE_URL, &number.to_le_bytes()),
        ticket: format!("run-{number}"),
        at: Timestamp::from_second(begun_s).unwrap(),
        trainee: trainee.map(str::to_owned),
        scenario: format!("exercise-{}", number % 20),
        scenario_hash: format!("{:016x}", number % 20),
        titles: [
            ("en".to_owned(), format!("Exercise {}", number % 20)),
            ("es".to_owned(), format!("Ejercicio {}", number % 20)),
        ]
        .into(),
        seed: u64::MAX - number,
        mode: "assessed".to_owned(),
        passed,
        points: if passed { 96.0 } else { 45.0 },
        pass_mark: 80.0,
        ended: Some(if passed {
            Ending::AtRest
        } else {
            Ending::Critical
        }),
        outcome: Some(if passed {
            Outcome::Joined
        } else {
            Outcome::DoubleFeed
        }),
        duration_s: 300.0 + number as f64 / 7.0,
        breaks: 1,
        breaks_s: 12.5,
        recording: Some(format!("run-{number}.json")),
        program: "0.1.0".to_owned(),
    }
}

/// What is found in the attempt of a number.
pub fn findings(number: u64) -> Vec<Found> {
    let kinds = KINDS.iter().cycle().skip(number as usize % KINDS.len());
    let kinds = kinds.take(if number.is_multiple_of(3) { 1 } else { 3 });
    kinds
        .zip(1..)
        .map(|(kind, place)| Found {
            kind: kind.id().to_owned(),
            severity: kind.severity(),
            tick: 2400 * place,
            time_s: 10.0 * place as f64,
            points: 4.0,
            rule: format!("The rule about {}", kind.id()),
        })
        .collect()
}
