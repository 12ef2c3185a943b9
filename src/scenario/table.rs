//! How fields are described: what each may hold, what it stands for when left out, what it means.
//!
//! [`group!`] declares a group of fields once and makes of it the struct that `ron` fills, a method
//! for each default, and the rows of the table that checking and the documentation read. A row
//! that nothing reads is an unused method or field, which the compiler reports.

use std::fmt::Debug;

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
    pub fn allowed(&self) -> String {
        match self {
            Self::Number { unit, min, max, .. } => {
                let range = format!("{min} to {max} {unit}");
                range.trim_end().to_owned()
            }
            Self::Count { min, max } if min == max => min.to_string(),
            Self::Count { min, max } => format!("a whole number, {min} to {max}"),
            Self::Flag => "true or false".to_owned(),
            Self::Word(words) => listing(words),
            Self::Title { longest } => {
                format!("a text in quotes, one line, 1 to {longest} characters")
            }
            Self::Prose { longest } => format!("a text in quotes, at most {longest} characters"),
            Self::Measure(measures) => {
                let each: Vec<String> = measures
                    .iter()
                    .map(|measure| {
                        let word = measure.word;
                        let values = match measure.values {
                            Values::Listed(..) => listing(&measure.values.listed()),
                            Values::Between(min, max) => format!("{min} to {max}"),
                        };
                        let text = format!("{word}(…) with {values} {}", measure.unit);
                        text.trim_end().to_owned()
                    })
                    .collect();
                each.join("; ")
            }
        }
    }
}

/// `a, b or c`.
pub(super) fn listing<T: ToString>(words: &[T]) -> String {
    let mut words: Vec<String> = words.iter().map(T::to_string).collect();
    let Some(last) = words.pop() else {
        return String::new();
    };
    if words.is_empty() {
        last
    } else {
        format!("{} or {last}", words.join(", "))
    }
}

/// What a field that is left out stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum LeftOut {
    /// It cannot be left out.
    Required,
    Value(String),
    /// Follows from other fields, in words.
    Follows(&'static str),
}

/// One row of the table.
#[derive(Clone, Debug)]
pub(super) struct Field {
    pub name: &'static str,
    pub kind: Kind,
    pub left_out: LeftOut,
    pub meaning: &'static str,
}

/// A group of fields, with the groups and lists of groups in it.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub meaning: String,
    pub fields: Vec<Field>,
    pub groups: Vec<(&'static str, Group)>,
    pub lists: Vec<(&'static str, Group)>,
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
/// `name: Type = kind; required | follows "rule" | or DEFAULT; "meaning";`.
macro_rules! group {
    (
        $(#[doc = $doc:literal])+
        $group:ident {
            $(
                $field:ident : $type:ty = $kind:expr ;
                $(required)? $(follows $rule:literal)? $(or $default:expr)? ;
                $meaning:literal ;
            )*
        }
        groups { $( $inner:ident : $inner_type:ident ; )* }
        lists { $( $list:ident : $list_type:ident ; )* }
    ) => {
        $(#[doc = $doc])+
        #[derive(Clone, Debug, Default, serde::Deserialize)]
        #[serde(deny_unknown_fields, default)]
        pub(super) struct $group {
            $( #[doc = $meaning] pub $field: Option<$type>, )*
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
                    meaning: concat!($($doc),+).trim().to_owned(),
                    fields: vec![ $( table::Field {
                        name: stringify!($field),
                        kind: $kind,
                        left_out: None
                            $( .or(Some(table::LeftOut::Value(
                                table::written::<$type>(&$default),
                            ))) )?
                            $( .or(Some(table::LeftOut::Follows($rule))) )?
                            .unwrap_or(table::LeftOut::Required),
                        meaning: $meaning,
                    }, )* ],
                    groups: vec![ $( (stringify!($inner), $inner_type::table()), )* ],
                    lists: vec![ $( (stringify!($list), $list_type::table()), )* ],
                }
            }
        }
    };
}

pub(super) use group;
