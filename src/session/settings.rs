//! What the user has chosen. Names that belong to the window (a level of the picture, keys) are kept as
//! they are written.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use serde::{Deserialize, Serialize};

use crate::evidence::{Output, OutputError};
use crate::texts::{Lang, Message};

/// Version of the form of the file.
const FORMAT: u32 = 1;
/// Sizes of text that there are, % of the usual.
pub const TEXT_SCALE_PCT: std::ops::RangeInclusive<u32> = 75..=200;

/// See the module's text.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    pub format: u32,
    /// None for that of the environment.
    pub lang: Option<Lang>,
    /// % of the usual.
    pub text_scale_pct: u32,
    /// None where the program chooses.
    pub quality: Option<String>,
    /// What is done, and the key that does it, where it is not the usual one.
    pub keys: BTreeMap<String, String>,
    pub reduced_motion: bool,
    /// Colours for a dim projector.
    pub projector: bool,
    pub volume_pct: u32,
    /// Who is at the pendant.
    pub trainee: Option<String>,
    /// Who stands for attempts.
    pub trainer: Option<String>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            format: FORMAT,
            lang: None,
            text_scale_pct: 100,
            quality: None,
            keys: BTreeMap::new(),
            reduced_motion: false,
            projector: false,
            volume_pct: 80,
            trainee: None,
            trainer: None,
        }
    }
}

impl Settings {
    /// Reads settings, and says what is wrong with the file; one that cannot be read is put aside.
    pub fn load(path: &Path) -> (Self, Option<Message>) {
        let error = match fs::read_to_string(path) {
            Ok(text) => match Self::parse(&text) {
                Ok(settings) => return (settings, None),
                Err(error) => error,
            },
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                return (Self::default(), None);
            }
            Err(error) => error.to_string(),
        };
        let aside = free_place_beside(path);
        let warning = match fs::rename(path, &aside) {
            Ok(()) => Message::new("settings-put-aside").with("kept", aside.display().to_string()),
            Err(_) => Message::new("settings-unreadable"),
        };
        let warning = warning
            .with("file", path.display().to_string())
            .with("error", error);
        (Self::default(), Some(warning))
    }

    fn parse(text: &str) -> Result<Self, String> {
        let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
        let read: Self = options.from_str(text).map_err(|error| error.to_string())?;
        if read.format != FORMAT {
            return Err(format!("format {}", read.format));
        }
        Ok(read.within_range())
    }

    /// With numbers that there are.
    fn within_range(self) -> Self {
        let (least, most) = TEXT_SCALE_PCT.into_inner();
        Self {
            text_scale_pct: self.text_scale_pct.clamp(least, most),
            volume_pct: self.volume_pct.min(100),
            ..self
        }
    }

    /// Writes the settings, whole or not at all.
    ///
    /// # Errors
    /// Where the file cannot be written.
    pub fn save(&self, path: &Path) -> Result<(), OutputError> {
        let output = Output::open(path)?;
        let own = self.clone().within_range();
        let text = ron::ser::to_string_pretty(&own, PrettyConfig::default());
        let text = text.map_err(|error| OutputError::Unwritable {
            path: path.to_owned(),
            source: io::Error::other(error),
        })?;
        output.write(format!("{text}\n").as_bytes())
    }
}

/// A name beside a file that nothing has yet.
fn free_place_beside(path: &Path) -> PathBuf {
    let mut number = 1;
    loop {
        let place = path.with_extension(format!("unreadable-{number}.ron"));
        if !place.exists() {
            return place;
        }
        number += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file() -> (tempfile::TempDir, PathBuf) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("settings.ron");
        (folder, path)
    }

    #[test]
    fn settings_come_back_as_they_were() {
        let (_folder, path) = file();
        assert_eq!(Settings::load(&path), (Settings::default(), None));
        let settings = Settings {
            lang: Some(Lang::Spanish),
            text_scale_pct: 150,
            quality: Some("Low".to_owned()),
            keys: [("Feed".to_owned(), "KeyF".to_owned())].into(),
            reduced_motion: true,
            trainee: Some("Ana \"la jefa\" Núñez".to_owned()),
            ..Settings::default()
        };
        settings.save(&path).unwrap();
        assert_eq!(Settings::load(&path), (settings, None));
    }

    #[test]
    fn what_is_unknown_or_out_of_range_does_no_harm() {
        let (_folder, path) = file();
        let text = "(format: 1, text_scale_pct: 9999, volume_pct: 400, lang: es,
            colour: (hue: [1, 2.5], of: Some(\"x\")), shades: {\"a\": (1, 'b')})";
        fs::write(&path, text).unwrap();
        let (settings, warning) = Settings::load(&path);
        assert_eq!(warning, None);
        assert_eq!((settings.text_scale_pct, settings.volume_pct), (200, 100));
        assert_eq!(settings.lang, Some(Lang::Spanish));
    }

    #[test]
    fn a_broken_file_is_put_aside_and_never_lost() {
        let (folder, path) = file();
        let broken: [&[u8]; 4] = [b"(format: 1,", b"\xff\xfe", b"(format: 2)", b""];
        for (number, bytes) in broken.iter().enumerate() {
            fs::write(&path, bytes).unwrap();
            let (settings, warning) = Settings::load(&path);
            assert_eq!(settings, Settings::default());
            assert_eq!(warning.unwrap().id(), "settings-put-aside");
            assert!(!path.exists());
            let kept = fs::read_dir(folder.path()).unwrap();
            let kept: Vec<Vec<u8>> = kept
                .map(|entry| fs::read(entry.unwrap().path()).unwrap())
                .collect();
            assert_eq!(kept.len(), number + 1);
            assert!(kept.iter().any(|kept| kept == bytes));
        }
    }
}
