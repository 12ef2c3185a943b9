//! The table of fields against the code that reads files, both ways.

use std::collections::{BTreeMap, BTreeSet};

use super::raw::File;
use super::reader::{Value, decimal, read, whole};
use super::table::{Described, Field, Group, Kind, LeftOut, Measure, Values};
use super::{Scenario, parse, ron_options};
use crate::texts::{Filling, Lang};

/// Values by path; a list has one item, and behind it those of [`BESIDE`].
type Given = BTreeMap<String, String>;

/// Items without which the one of a list would not be sound.
const BESIDE: [(&str, &str); 1] = [("zone.cones.", ", (x_m: 20, z_m: -20), (x_m: 20, z_m: 20)")];

fn document(group: &Group, path: &str, values: &Given) -> String {
    let join = |name: &str| format!("{path}{name}");
    let mut parts = Vec::new();
    for field in &group.fields {
        if let Some(value) = values.get(&join(field.name)) {
            parts.push(format!("{}: {value}", field.name));
        }
    }
    for (name, inner) in &group.groups {
        let inner = document(inner, &join(&format!("{name}.")), values);
        if inner != "()" {
            parts.push(format!("{name}: {inner}"));
        }
    }
    for (name, inner) in &group.lists {
        let path = join(&format!("{name}."));
        let beside = BESIDE.iter().find(|(list, _)| *list == path);
        let inner = document(inner, &path, values);
        if inner != "()" {
            let beside = beside.map_or("", |(_, items)| items);
            parts.push(format!("{name}: [{inner}{beside}]"));
        }
    }
    format!("({})", parts.join(", "))
}

fn for_each_group(group: &Group, path: &str, visit: &mut impl FnMut(&str, &Group)) {
    visit(path, group);
    for (name, inner) in group.groups.iter().chain(&group.lists) {
        for_each_group(inner, &format!("{path}{name}."), visit);
    }
}

fn fields() -> Vec<(String, Field)> {
    let mut fields = Vec::new();
    for_each_group(&File::table(), "", &mut |path, group| {
        for field in &group.fields {
            fields.push((format!("{path}{}", field.name), field.clone()));
        }
    });
    fields
}

/// Values over the whole of what a field may hold, as written in a file.
fn candidates(kind: Kind) -> Vec<String> {
    let over = |min: f64, max: f64| (0..=20).map(move |k| min + (max - min) * f64::from(k) / 20.0);
    match kind {
        Kind::Number { min, max, .. } => over(min, max).map(|v| v.to_string()).collect(),
        Kind::Count { min, max } => [min, min + 1, min + 2, max].map(|v| v.to_string()).to_vec(),
        Kind::Flag => vec!["true".into(), "false".into()],
        Kind::Word(words) => words.iter().map(|word| (*word).to_owned()).collect(),
        Kind::Title { .. } | Kind::Prose { .. } => vec!["\"Other words\"".into()],
        Kind::Measure(measures) => measures.iter().flat_map(measured).collect(),
    }
}

fn measured(measure: &Measure) -> Vec<String> {
    let values = match measure.values {
        Values::Listed(..) => measure.values.listed(),
        Values::Between(min, max) => vec![min, 0.5 * (min + max), max],
    };
    let word = measure.word;
    values.iter().map(|v| format!("{word}({v})")).collect()
}

/// A sound file in which any one field can be changed.
fn base() -> Given {
    [
        ("format", "1"),
        ("name", "\"Base\""),
        ("pipe.size", "Ips(30)"),
        ("pipe.wall", "Dr(17)"),
        // Room for skew, and a shape that the long axis shows on.
        ("pipe.ovality_pct", "2"),
        ("row.sticks", "3"),
        ("row.gap_mm", "1500"),
        ("row.overrides.stick", "2"),
        ("row.overrides.ovality_pct", "3"),
        ("scoring.own.finding", "Struck"),
        ("scoring.own.points", "7"),
        // Without a loader nothing of it would count.
        ("loader.sticks", "2"),
        ("people.duty", "Technician"),
        ("people.x_m", "5"),
        ("people.z_m", "20"),
        ("people.path.x_m", "5"),
        ("people.path.z_m", "25"),
        ("zone.cones.x_m", "-20"),
        ("zone.cones.z_m", "-20"),
    ]
    .map(|(path, value)| (path.to_owned(), value.to_owned()))
    .into()
}

fn scenario_of(values: &Given) -> Result<Scenario, String> {
    let text = document(&File::table(), "", values);
    parse("base", &text)
        .map(|loaded| loaded.scenario)
        .map_err(|faults| format!("{text}\n{faults:#?}"))
}

#[test]
fn every_field_of_the_table_changes_the_scenario() {
    let original = scenario_of(&base()).expect("the base is sound");
    // A wheel takes the first stick only close; the kind is tried on a row that it can hold.
    let close = |mut values: Given| {
        values.insert("row.gap_mm".to_owned(), "0".to_owned());
        values
    };
    let original_close = scenario_of(&close(base())).expect("the close base is sound");
    for (path, field) in fields() {
        if path == "format" {
            continue; // One value is allowed; that it is read is a test of its own.
        }
        let changes = candidates(field.kind).into_iter().any(|value| {
            let mut values = base();
            values.insert(path.clone(), value);
            if path == "escapement.kind" {
                return scenario_of(&close(values)).is_ok_and(|other| other != original_close);
            }
            scenario_of(&values).is_ok_and(|scenario| scenario != original)
        });
        assert!(changes, "no value of {path} makes a different scenario");
    }
    assert_eq!(original.format, 1);
}

#[test]
fn every_required_field_is_missed_and_no_other_is() {
    let required: Vec<String> = fields()
        .into_iter()
        .filter(|(_, field)| field.left_out == LeftOut::Required)
        .map(|(path, _)| path)
        .collect();
    assert_eq!(
        required,
        [
            "format",
            "name",
            "scoring.own.finding",
            "scoring.own.points",
            "pipe.size",
            "pipe.wall",
            "row.overrides.stick",
            "zone.cones.x_m",
            "zone.cones.z_m",
            "people.duty",
            "people.x_m",
            "people.z_m",
            "people.path.x_m",
            "people.path.z_m",
        ]
    );
    for path in &required {
        let mut values = base();
        values.remove(path);
        let faults = scenario_of(&values).expect_err("a required field is left out");
        assert!(faults.contains("fault-missing"), "{path}: {faults}");
    }
    let least: Given = base()
        .into_iter()
        .filter(|(path, _)| required.contains(path))
        .filter(|(path, _)| {
            !["scoring", "row", "zone", "people"]
                .iter()
                .any(|list| path.starts_with(list))
        })
        .collect();
    scenario_of(&least).expect("all that is not required can be left out");
}

#[test]
fn stated_defaults_are_the_defaults() {
    let original = scenario_of(&base()).expect("the base is sound");
    for (path, field) in fields() {
        let LeftOut::Value(default) = &field.left_out else {
            continue;
        };
        let mut values = base();
        if values.contains_key(&path) || default == "\"\"" {
            continue;
        }
        values.insert(path.clone(), default.clone());
        let stated = scenario_of(&values).unwrap_or_else(|why| panic!("{path}: {why}"));
        assert_eq!(stated, original, "{path} with its default written out");
    }
}

#[test]
fn typed_reader_and_table_have_the_same_fields() {
    let table = File::table();
    for_each_group(&table, "", &mut |path, group| {
        // The typed reader lists the fields it knows when it meets one that it does not.
        let lists = [
            "scoring.own",
            "row.overrides",
            "zone.cones",
            "people",
            "people.path",
        ];
        let mut text = "(nonsense: 1)".to_owned();
        let mut inner = path.trim_end_matches('.');
        while !inner.is_empty() {
            let (outer, name) = inner.rsplit_once('.').unwrap_or(("", inner));
            text = if lists.contains(&inner) {
                format!("({name}: [{text}])")
            } else {
                format!("({name}: {text})")
            };
            inner = outer;
        }
        let error = ron_options()
            .from_str::<File>(&text)
            .expect_err("there is no such field");
        let ron::Error::NoSuchStructField { expected, .. } = error.code else {
            panic!("{text}: {error}");
        };
        assert_eq!(expected, super::check::names(group), "fields of '{path}'");
    });
}

#[test]
fn ranges_are_in_order_and_hold_their_defaults() {
    for (path, field) in fields() {
        if let Kind::Number {
            min, max, usual, ..
        } = field.kind
        {
            assert!(min < max, "{path}");
            if let Some(usual) = usual {
                assert!(
                    min <= usual.min && usual.min < usual.max && usual.max <= max,
                    "{path}"
                );
            }
            if let LeftOut::Value(default) = &field.left_out {
                let default = decimal(default).expect("a number");
                assert!((min..=max).contains(&default), "{path}");
                let is_usual = usual.is_none_or(|u| (u.min..=u.max).contains(&default));
                assert!(is_usual, "the default of {path} would be warned of");
            }
        }
    }
}

#[test]
fn numbers_are_those_of_ron() {
    for (written, value) in [
        ("5", 5.0),
        ("+5", 5.0),
        ("-2.5", -2.5),
        ("1_000.5", 1000.5),
        (".5", 0.5),
        ("5.", 5.0),
        ("1e3", 1000.0),
        ("1E-3", 0.001),
    ] {
        let typed: f64 = ron::from_str(written).expect(written);
        assert_eq!(typed, value);
        assert_eq!(decimal(written), Some(value), "{written}");
        assert!(matches!(read(written).expect(written).value, Value::Number(n) if n == written));
    }
    for (written, value) in [
        ("0x1F", 31),
        ("0b101", 5),
        ("0o17", 15),
        ("1_0", 10),
        ("+7", 7),
    ] {
        let typed: u64 = ron::from_str(written).expect(written);
        assert_eq!(typed, value);
        assert_eq!(whole(written), Some(value), "{written}");
    }
    for written in [
        "5deg", "1.2.3", "--5", "0xZZ", "1e", "5.0f64", "0x", "-", "+", ".",
    ] {
        assert!(read(written).is_err(), "{written}");
    }
}

#[test]
fn texts_are_those_of_ron() {
    for written in [
        r#""plain""#,
        r#""tab \t quote \" slash \\ \u{e9} \x41""#,
        "\"two\nlines\"",
        "\"joined \\\n   lines\"",
        r##"r"raw \n""##,
        r###"r#"raw "quoted""#"###,
        "\"\u{e9}\u{1F600}\"",
        "/* a /* nested */ comment */ \"x\" // end",
    ] {
        let typed: String = ron::from_str(&format!("{written}\n")).expect(written);
        match read(written).expect(written).value {
            Value::Text(text) => assert_eq!(text, typed, "{written}"),
            other => panic!("{written}: {other:?}"),
        }
    }
}

/// The entries of the catalogue that the table asks for, and no others of their kinds.
#[test]
fn the_catalogue_has_the_meaning_of_every_field() {
    let mut asked = BTreeSet::new();
    for_each_group(&File::table(), "", &mut |_, group| {
        asked.insert(group.meaning.id().to_owned());
        for field in &group.fields {
            asked.insert(field.meaning.id().to_owned());
            if let LeftOut::Follows(Filling::Message(rule)) = &field.left_out {
                asked.insert(rule.id().to_owned());
            }
            if let Kind::Number {
                usual: Some(usual), ..
            } = field.kind
            {
                asked.insert(usual.says.to_owned());
            }
        }
    });
    for lang in Lang::ALL {
        let (_, text) = lang.files().find(|(name, _)| *name == "fields").unwrap();
        let there: BTreeSet<String> = text
            .lines()
            .filter_map(|line| Some(line.split_once(" = ")?.0.to_owned()))
            .filter(|id| !id.starts_with("fields-"))
            .collect();
        let lacking: Vec<_> = asked.symmetric_difference(&there).collect();
        assert!(lacking.is_empty(), "{lang:?}: {lacking:?}");
    }
}
