//! The table of fields as a page to read.

use std::fmt::Write;

use super::raw::File;
use super::table::{Described, Field, Group, Kind, LeftOut};

/// Every field of a scenario file: what it may hold, its default, its meaning.
pub fn field_reference() -> String {
    let mut page = String::new();
    write_group(&mut page, "", &File::table(), false);
    page.truncate(page.trim_end().len());
    page.push('\n');
    page
}

fn write_group(page: &mut String, path: &str, group: &Group, is_list: bool) {
    let title = match (path, is_list) {
        ("", _) => "( … )".to_owned(),
        (_, false) => format!("{path}: ( … )"),
        (_, true) => format!("{path}: [ ( … ), … ]"),
    };
    // Writing to a string cannot fail.
    let _ = writeln!(page, "{title}\n    {}\n", group.meaning);
    for field in &group.fields {
        write_field(page, field);
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
        write_group(page, &inner(name), group, false);
    }
    for (name, group) in &group.lists {
        write_group(page, &inner(name), group, true);
    }
}

fn write_field(page: &mut String, field: &Field) {
    let left_out = match &field.left_out {
        LeftOut::Required => "required".to_owned(),
        LeftOut::Value(value) => format!("default {value}"),
        LeftOut::Follows(rule) => format!("default: {rule}"),
    };
    let Field {
        name,
        meaning,
        kind,
        ..
    } = field;
    let _ = writeln!(page, "  {name}: {meaning}.");
    let _ = writeln!(page, "      {}; {left_out}", kind.allowed());
    if let Kind::Number {
        usual: Some(usual), ..
    } = kind
    {
        let _ = writeln!(page, "      warns outside {} to {}", usual.min, usual.max);
    }
}
