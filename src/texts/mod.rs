//! Every text for people, in every language: the catalogue.
//!
//! The entries lie in `assets/texts/LANGUAGE/*.ftl` (Project Fluent's open format) and travel with the
//! program. Whoever has something to say makes a [`Message`]; only where it is shown is it put into
//! a language.

mod message;

use std::sync::OnceLock;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use unic_langid::LanguageIdentifier;

pub use message::{Filling, Message};

/// A language of the catalogue.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize,
)]
pub enum Lang {
    #[default]
    #[serde(rename = "en")]
    English,
    #[serde(rename = "es")]
    Spanish,
}

/// Files of the catalogue: name, English, Spanish.
macro_rules! files {
    ($($name:literal),* $(,)?) => {
        [$((
            $name,
            [
                include_str!(concat!("../../assets/texts/en/", $name, ".ftl")),
                include_str!(concat!("../../assets/texts/es/", $name, ".ftl")),
            ],
        )),*]
    };
}

const FILES: &[(&str, [&str; 2])] = &files![
    "cli",
    "coach",
    "debrief_report",
    "desk",
    "fields",
    "judge",
    "lab",
    "lab_numbers",
    "lab_screen",
    "operators",
    "recordings",
    "records",
    "report",
    "scenario",
    "scene",
    "screens",
    "session",
    "story",
    "sweeps",
    "trainer",
    "walk",
    "words",
];

impl Lang {
    pub const ALL: [Self; 2] = [Self::English, Self::Spanish];

    /// Its code, as on the command line.
    pub fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Spanish => "es",
        }
    }

    pub fn of_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|lang| lang.code() == code)
    }

    /// The files of the catalogue in this language: name and text.
    pub fn files(self) -> impl Iterator<Item = (&'static str, &'static str)> {
        FILES
            .iter()
            .map(move |(name, texts)| (*name, texts[self as usize]))
    }
}

/// The catalogue in one language.
pub struct Texts {
    lang: Lang,
    bundle: FluentBundle<FluentResource>,
}

impl Texts {
    fn new(lang: Lang) -> Self {
        let language: LanguageIdentifier = lang.code().parse().unwrap_or_default();
        let mut bundle = FluentBundle::new_concurrent(vec![language]);
        // Marks for mixed writing directions are of no use in a terminal.
        bundle.set_use_isolating(false);
        for (_, text) in lang.files() {
            // A faulty or doubled entry would be missing: the tests find both.
            let resource = match FluentResource::try_new(text.to_owned()) {
                Ok(resource) | Err((resource, _)) => resource,
            };
            let _ = bundle.add_resource(resource);
        }
        Self { lang, bundle }
    }

    /// The catalogue in a language, made once.
    pub fn of(lang: Lang) -> &'static Self {
        static MADE: [OnceLock<Texts>; 2] = [OnceLock::new(), OnceLock::new()];
        MADE[lang as usize].get_or_init(|| Self::new(lang))
    }

    pub fn lang(&self) -> Lang {
        self.lang
    }

    /// Whether there is an entry of this name.
    pub fn has(&self, id: &str) -> bool {
        self.bundle.has_message(id)
    }

    /// What goes into a gap, by itself.
    pub fn fill(&self, filling: &Filling) -> String {
        match filling {
            Filling::Count(count) => count.to_string(),
            Filling::Text(text) => text.clone(),
            Filling::Message(message) => self.say(message),
        }
    }

    /// Says a message. What the catalogue lacks is shown by its name.
    pub fn say(&self, message: &Message) -> String {
        let said = self.try_say(message);
        debug_assert!(said.is_ok(), "{:?}: {said:?}", self.lang);
        said.unwrap_or_else(|(text, _)| text)
    }

    /// Says a message.
    ///
    /// # Errors
    /// As far as it can be said, and why not all of it: no such entry, or a gap that is not filled.
    pub fn try_say(&self, message: &Message) -> Result<String, (String, String)> {
        let id = message.id();
        let entry = self.bundle.get_message(id).and_then(|entry| entry.value());
        let Some(pattern) = entry else {
            return Err((id.to_owned(), format!("{id} is not in the catalogue")));
        };
        let mut args = FluentArgs::with_capacity(message.gaps().len());
        for (gap, filling) in message.gaps() {
            let value = match filling {
                // A number, so that the words around it can agree with it.
                Filling::Count(count) => FluentValue::from(*count as f64),
                Filling::Text(_) | Filling::Message(_) => FluentValue::from(self.fill(filling)),
            };
            args.set(*gap, value);
        }
        let mut errors = Vec::new();
        let text = self
            .bundle
            .format_pattern(pattern, Some(&args), &mut errors)
            .into_owned();
        if errors.is_empty() {
            Ok(text)
        } else {
            Err((text, format!("{id}: {errors:?}")))
        }
    }
}
