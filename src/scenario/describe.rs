//! The table of fields as a page to read.

use std::fmt::Write;

use super::raw::File;
use super::table::{Described, Field, Group, Kind, LeftOut};
use crate::texts::{Message, Texts};

/// Every field of a scenario file: what it may hold, its default, its meaning.
pub fn field_reference(texts: &Texts) -> String {
    let mut page = String::new();
    write_group(&mut page, texts, "", &File::table(), false);
    page.truncate(page.trim_end().len());
    page.push('\n');
    page
}

fn write_group(page: &mut String, texts: &Texts, path: &str, group: &Group, is_list: bool) {
    let title = match (path, is_list) {
        ("", _) => "( … )".to_owned(),
        (_, false) => format!("{path}: ( … )"),
        (_, true) => format!("{path}: [ ( … ), … ]"),
    };
    // Writing to a string cannot fail.
    let _ = writeln!(page, "{title}\n    {}\n", texts.say(&group.meaning));
    for field in &group.fields {
        write_field(page, texts, field);
    }
    if !group.fields.is_empty() {
        page.push('\n');
    }
    let inner = |name: &str| {
        if path.is_empty() {
            name.to_owned()
        } else {
            format!("{path}.{name}")
        }
    };
    for (name, group) in &group.groups {
        write_group(page, texts, &inner(name), group, false);
    }
    for (name, group) in &group.lists {
        write_group(page, texts, &inner(name), group, true);
    }
}

fn write_field(page: &mut String, texts: &Texts, field: &Field) {
    let left_out = match &field.left_out {
        LeftOut::Required => Message::new("fields-required"),
        LeftOut::Value(value) => Message::new("fields-default").with("value", value.as_str()),
        LeftOut::Follows(rule) => Message::new("fields-follows").with("rule", rule.clone()),
    };
    let Field {
        name,
        meaning,
        kind,
        ..
    } = field;
    let _ = writeln!(page, "  {name}: {}.", texts.say(meaning));
    let allowed = texts.fill(&kind.allowed());
    let _ = writeln!(page, "      {allowed}; {}", texts.say(&left_out));
    if let Kind::Number {
        usual: Some(usual), ..
    } = kind
    {
        let warns = Message::new("fields-warns")
            .with("min", usual.min)
            .with("max", usual.max);
        let _ = writeln!(page, "      {}", texts.say(&warns));
    }
}
