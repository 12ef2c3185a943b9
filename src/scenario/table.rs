//! How fields are described: what each may hold, what it stands for when left out, what it means.
//!
//! [`group!`] declares a group of fields once and makes of it the struct that `ron` fills, a method
//! for each default, and the rows of the table that checking and the documentation read. A row
//! that nothing reads is an unused method or field, which the compiler reports.

use std::fmt::Debug;

use crate::texts::{Filling, Message};

/// What a field may hold.
#[derive(Clone, Copy, Debug)]
pub(super) enum Kind {
    Number {
        unit: &'static str,
        min: f64,
        max: f64,
        /// The band of common practice or of published values; outside it is a warning.
        usual: Option<Usual>,
    },
    Count {
        min: u64,
        max: u64,
    },
    Flag,
    Word(&'static [&'static str]),
    /// One line of text, not blank.
    Title {
        longest: usize,
    },
    /// Any text.
    Prose {
        longest: usize,
    },
    /// A word with a number: `Ips(24)`.
    Measure(&'static [Measure]),
}

#[derive(Clone, Copy, Debug)]
pub(super) struct Usual {
    pub min: f64,
    pub max: f64,
    /// Entry of the catalogue.
    pub says: &'static str,
}

/// One word that takes a number.
#[derive(Clone, Copy, Debug)]
pub(super) struct Measure {
    pub word: &'static str,
    pub unit: &'static str,
    pub values: Values,
}

#[derive(Clone, Copy, Debug)]
pub(super) enum Values {
    /// Those of a series from the least to the greatest given.
    Listed(&'static [u16], u16, u16),
    Between(f64, f64),
}

impl Values {
    /// All of them, where they can be listed.
    pub fn listed(&self) -> Vec<f64> {
        match *self {
            Self::Listed(series, min, max) => series
                .iter()
                .filter(|size| (min..=max).contains(*size))
                .map(|size| f64::from(*size))
                .collect(),
            Self::Between(..) => Vec::new(),
        }
    }
}

impl Measure {
    fn allowed(&self) -> Filling {
        let values = match self.values {
            Values::Listed(..) => listing(&self.values.listed()),
            Values::Between(min, max) => range(min, max).into(),
        };
        Message::new("allowed-measure")
            .with("word", self.word)
            .with("values", with_unit(values, self.unit))
            .into()
    }

    pub fn takes(&self, value: f64) -> bool {
        match self.values {
            Values::Listed(..) => self.values.listed().contains(&value),
            Values::Between(min, max) => (min..=max).contains(&value),
        }
    }
}

pub(super) const fn number(unit: &'static str, min: f64, max: f64) -> Kind {
    Kind::Number {
        unit,
        min,
        max,
        usual: None,
    }
}

pub(super) const fn count(min: u64, max: u64) -> Kind {
    Kind::Count { min, max }
}

pub(super) const fn title(longest: usize) -> Kind {
    Kind::Title { longest }
}

pub(super) const fn prose(longest: usize) -> Kind {
    Kind::Prose { longest }
}

impl Kind {
    /// Adds the band outside which a number is worth a warning, and whose band it is.
    pub const fn usual(self, low: f64, high: f64, says: &'static str) -> Self {
        match self {
            Self::Number { unit, min, max, .. } => Self::Number {
                unit,
                min,
                max,
                usual: Some(Usual {
                    min: low,
                    max: high,
                    says,
                }),
            },
            other => other,
        }
    }

    /// What is allowed, in words.
    pub fn allowed(&self) -> Filling {
        match *self {
            Self::Number { unit, min, max, .. } => with_unit(range(min, max), unit),
            Self::Count { min, max } if min == max => min.to_string().into(),
            Self::Count { min, max } => Message::new("allowed-whole-number")
                .with("min", min.to_string())
                .with("max", max.to_string())
                .into(),
            Self::Flag => Message::new("allowed-flag").into(),
            Self::Word(words) => listing(words),
            Self::Title { longest } => Message::new("allowed-title")
                .with("longest", longest)
                .into(),
            Self::Prose { longest } => Message::new("allowed-prose")
                .with("longest", longest)
                .into(),
            Self::Measure(measures) => {
                let each = measures.iter().map(Measure::allowed);
                let either = each.reduce(|one, other| {
                    Message::new("allowed-either")
                        .with("one", one)
                        .with("other", other)
                        .into()
                });
                either.unwrap_or_else(|| "".into())
            }
        }
    }
}

/// `1 to 5`.
pub(super) fn range(min: f64, max: f64) -> Message {
    Message::new("range").with("min", min).with("max", max)
}

/// An amount with its unit, if it has one. Those that are words are in the catalogue.
pub(super) fn with_unit(amount: impl Into<Filling>, unit: &'static str) -> Filling {
    let unit: Filling = match unit {
        "" => return amount.into(),
        "deg" => Message::new("unit-deg").into(),
        "in" => Message::new("unit-in").into(),
        "points" => Message::new("unit-points").into(),
        unit => unit.into(),
    };
    Message::new("amount")
        .with("amount", amount)
        .with("unit", unit)
        .into()
}

/// `a, b or c`.
pub(super) fn listing<T: ToString>(words: &[T]) -> Filling {
    let mut words: Vec<String> = words.iter().map(T::to_string).collect();
    let last = words.pop().unwrap_or_default();
    if words.is_empty() {
        last.into()
    } else {
        Message::new("list-or")
            .with("list", words.join(", "))
            .with("last", last)
            .into()
    }
}

/// What a field that is left out stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum LeftOut {
    /// It cannot be left out.
    Required,
    Value(String),
    /// Follows from other fields: a path, or in words.
    Follows(Filling),
}

/// One row of the table.
#[derive(Clone, Debug)]
pub(super) struct Field {
    pub name: &'static str,
    pub kind: Kind,
    pub left_out: LeftOut,
    pub meaning: Message,
}

/// A group of fields, with the groups and lists of groups in it.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub meaning: Message,
    pub fields: Vec<Field>,
    pub groups: Vec<(&'static str, Group)>,
    pub lists: Vec<(&'static str, Group)>,
}

/// A field that follows from the one of a path, or as an entry of the catalogue says.
pub(super) fn follows(path: Option<&'static str>, entry: &'static str) -> LeftOut {
    LeftOut::Follows(match path {
        Some(path) => path.into(),
        None => Message::new(entry).into(),
    })
}

/// A struct that describes its fields.
pub(super) trait Described {
    fn table() -> Group;
}

/// A default as it would be written in a file.
pub(super) fn written<T: Debug>(value: &T) -> String {
    let text = format!("{value:?}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

pub(super) fn given_or<T: Clone>(given: &Option<T>, default: T) -> T {
    given.clone().unwrap_or(default)
}

/// Declares one group. Each field is
/// `name: Type = kind; required | follows "another.field" | follows | or DEFAULT;`.
/// What groups and fields mean, and what else a field follows from, stands in the catalogue under
/// `group-Group`, `field-Group-name` and `follows-Group-name`.
macro_rules! group {
    (
        $(#[doc = $doc:literal])+
        $group:ident {
            $(
                $field:ident : $type:ty = $kind:expr ;
                $(required)? $(follows $($path:literal)?)? $(or $default:expr)? ;
            )*
        }
        groups { $( $inner:ident : $inner_type:ident ; )* }
        lists { $( $list:ident : $list_type:ident ; )* }
    ) => {
        $(#[doc = $doc])+
        #[derive(Clone, Debug, Default, serde::Deserialize)]
        #[serde(deny_unknown_fields, default)]
        pub(super) struct $group {
            $( pub $field: Option<$type>, )*
            $( pub $inner: $inner_type, )*
            // A list that is left out is not one that is written out empty.
            $( pub $list: Option<Vec<$list_type>>, )*
        }

        impl $group {
            $( $(
                pub fn $field(&self) -> $type {
                    $crate::scenario::table::given_or::<$type>(&self.$field, $default)
                }
            )? )*
        }

        impl $crate::scenario::table::Described for $group {
            fn table() -> $crate::scenario::table::Group {
                use $crate::scenario::table;
                table::Group {
                    meaning: concat!("group-", stringify!($group)).into(),
                    fields: vec![ $( table::Field {
                        name: stringify!($field),
                        kind: $kind,
                        left_out: None
                            $( .or(Some(table::LeftOut::Value(
                                table::written::<$type>(&$default),
                            ))) )?
                            $( .or(Some(table::follows(
                                None $( .or(Some($path)) )?,
                                concat!("follows-", stringify!($group), "-", stringify!($field)),
                            ))) )?
                            .unwrap_or(table::LeftOut::Required),
                        meaning: concat!("field-", stringify!($group), "-", stringify!($field))
                            .into(),
                    }, )* ],
                    groups: vec![ $( (stringify!($inner), $inner_type::table()), )* ],
                    lists: vec![ $( (stringify!($list), $list_type::table()), )* ],
                }
            }
        }
    };
}

pub(super) use group;
