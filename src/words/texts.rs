//! The interface's texts, in files for translators: `assets/texts/`.
//!
//! A text has an id. [`Texts`] are those of one language; whoever words something is handed them, so that a record's words can
//! stay English while the window speaks another language. No language is kept for the program as a whole.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::OnceLock;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use fluent_syntax::ast::Entry;
use serde::{Deserialize, Serialize};
use unic_langid::LanguageIdentifier;

use crate::vehicle::Title;

/// A language in which the interface speaks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Language {
    /// The language in which every text is written first.
    #[default]
    English,
    /// German.
    German,
}

impl Language {
    /// All languages, the first being the one that others fall back to.
    pub const ALL: [Self; 2] = [Self::English, Self::German];

    /// Its tag (BCP 47).
    #[must_use]
    pub fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
        }
    }

    /// Its file of texts, as it is compiled in.
    #[must_use]
    pub fn file(self) -> &'static str {
        match self {
            Self::English => include_str!("../../assets/texts/en.ftl"),
            Self::German => include_str!("../../assets/texts/de.ftl"),
        }
    }

    /// Its name in itself.
    #[must_use]
    pub fn own_name(self) -> &'static str {
        Texts::of(self).say("language-name")
    }

    /// The language of a tag, or of a locale's name such as `de_AT.UTF-8`; a region is not looked at.
    #[must_use]
    pub fn of_tag(tag: &str) -> Option<Self> {
        let language = tag.split(['-', '_', '.', '@']).next().unwrap_or_default();
        Self::ALL.into_iter().find(|one| one.tag().eq_ignore_ascii_case(language))
    }

    /// The language that the environment asks for: the first of its variables that says anything is followed, where it names a
    /// language that is there.
    #[must_use]
    pub fn of_environment(variable: impl Fn(&str) -> Option<String>) -> Self {
        let said = ["LC_ALL", "LC_MESSAGES", "LANG"]
            .into_iter()
            .find_map(|name| variable(name).filter(|value| !value.is_empty()));
        said.and_then(|locale| Self::of_tag(&locale)).unwrap_or_default()
    }
}

/// What stands in a text for its variables.
#[derive(Debug, Default)]
pub struct Args<'a>(FluentArgs<'a>);

impl<'a> Args<'a> {
    /// None yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Sets a variable: words, or a number by which a text can choose its form.
    pub fn set(&mut self, name: &'static str, value: impl Into<FluentValue<'a>>) {
        self.0.set(name, value);
    }
}

/// Words a text with variables: `say!(texts, "some-id", count = 3, what = "lamp")`.
#[macro_export]
macro_rules! say {
    ($texts:expr, $id:expr $(, $name:ident = $value:expr)+ $(,)?) => {{
        let mut args = $crate::words::Args::new();
        $(args.set(stringify!($name), $value);)+
        $texts.say_with($id, &args)
    }};
}

/// The texts of a language.
#[derive(Clone, Copy)]
pub struct Texts(&'static Catalogue);

impl fmt::Debug for Texts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Texts({})", self.0.language.tag())
    }
}

/// A file of texts, read.
struct Catalogue {
    language: Language,
    bundle: FluentBundle<FluentResource>,
    /// The texts without variables.
    plain: BTreeMap<String, String>,
}

impl Texts {
    /// The texts of a language.
    #[must_use]
    pub fn of(language: Language) -> Self {
        static ENGLISH: OnceLock<Catalogue> = OnceLock::new();
        static GERMAN: OnceLock<Catalogue> = OnceLock::new();
        let kept = match language {
            Language::English => &ENGLISH,
            Language::German => &GERMAN,
        };
        Self(kept.get_or_init(|| Catalogue::of(language)))
    }

    /// The English texts, in which records, papers and pages are written.
    #[must_use]
    pub fn english() -> Self {
        Self::of(Language::English)
    }

    /// Their language.
    #[must_use]
    pub fn language(self) -> Language {
        self.0.language
    }

    /// What a thing of a vehicle is called. In English it is as the file is written, also in a file of another language: what
    /// records keep hangs on nothing else.
    #[must_use]
    pub fn title(self, title: &Title) -> &str {
        let translated = match self.language() {
            Language::English => None,
            other => title.translated(other.tag()),
        };
        translated.unwrap_or_else(|| title.written())
    }

    /// A text without variables. A test holds that each is there in each language; if one were not, English would be said.
    #[must_use]
    pub fn say(self, id: &'static str) -> &'static str {
        let known = |texts: Self| texts.0.plain.get(id).map(String::as_str);
        let said = known(self).or_else(|| known(Self::english()));
        debug_assert!(said.is_some(), "no plain text has the id `{id}`");
        said.unwrap_or(id)
    }

    /// A text with variables; see [`say!`](crate::say). What cannot be worded as it should falls back to English.
    #[must_use]
    pub fn say_with(self, id: &'static str, args: &Args<'_>) -> String {
        let worded = |texts: Self| {
            let pattern = texts.0.bundle.get_message(id)?.value()?;
            let mut slips = Vec::new();
            let text = texts.0.bundle.format_pattern(pattern, Some(&args.0), &mut slips);
            debug_assert!(slips.is_empty(), "`{id}` in {}: {slips:?}", texts.0.language.tag());
            slips.is_empty().then(|| text.into_owned())
        };
        let said = worded(self).or_else(|| worded(Self::english()));
        debug_assert!(said.is_some(), "no text has the id `{id}`");
        said.unwrap_or_else(|| id.to_owned())
    }
}

impl Catalogue {
    fn of(language: Language) -> Self {
        // What is wrong in a file is left out of what is read; a test holds that nothing is.
        let resource = FluentResource::try_new(language.file().to_owned()).unwrap_or_else(|(read, _)| read);
        let ids: Vec<String> = resource
            .entries()
            .filter_map(|entry| match entry {
                Entry::Message(message) => Some(message.id.name.to_owned()),
                _ => None,
            })
            .collect();
        let tag: LanguageIdentifier = language.tag().parse().unwrap_or_default();
        let mut bundle = FluentBundle::new_concurrent(vec![tag]);
        // Marks of direction would be drawn as boxes, and are for languages that are written from the right.
        bundle.set_use_isolating(false);
        bundle.add_resource_overriding(resource);
        let mut plain = BTreeMap::new();
        for id in ids {
            let Some(pattern) = bundle.get_message(&id).and_then(|message| message.value()) else { continue };
            let mut slips = Vec::new();
            let text = bundle.format_pattern(pattern, None, &mut slips);
            if slips.is_empty() {
                let text = Cow::into_owned(text);
                plain.insert(id, text);
            }
        }
        Self { language, bundle, plain }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_language_is_known_by_its_tag_and_by_a_locale() {
        assert_eq!(Language::of_tag("de"), Some(Language::German));
        assert_eq!(Language::of_tag("DE-at"), Some(Language::German));
        assert_eq!(Language::of_tag("de_DE.UTF-8"), Some(Language::German));
        assert_eq!(Language::of_tag("en_GB@euro"), Some(Language::English));
        for none in ["", "C", "POSIX", "den", "fr_FR"] {
            assert_eq!(Language::of_tag(none), None, "{none}");
        }
    }

    #[test]
    fn the_first_variable_that_says_anything_is_followed() {
        let with = |pairs: &'static [(&str, &str)]| {
            Language::of_environment(|name| {
                pairs.iter().find(|(key, _)| *key == name).map(|(_, value)| (*value).to_owned())
            })
        };
        assert_eq!(with(&[]), Language::English);
        assert_eq!(with(&[("LANG", "de_DE.UTF-8")]), Language::German);
        assert_eq!(with(&[("LC_ALL", ""), ("LANG", "de_DE.UTF-8")]), Language::German);
        assert_eq!(with(&[("LC_ALL", "C"), ("LANG", "de_DE.UTF-8")]), Language::English);
        assert_eq!(with(&[("LC_MESSAGES", "de_CH"), ("LANG", "en_GB")]), Language::German);
    }
}
