//! What a thing of a vehicle is called.

use std::collections::BTreeMap;
use std::fmt;

use super::model::Vehicle;
use super::part::PartKind;

/// A thing's name for people: as its file is written, and in the other languages that the file knows.
#[derive(Clone, PartialEq, Eq)]
pub struct Title {
    written: String,
    /// By the language's tag.
    translated: BTreeMap<String, String>,
}

impl Title {
    /// A title without translations.
    #[must_use]
    pub fn new(written: impl Into<String>) -> Self {
        Self { written: written.into(), translated: BTreeMap::new() }
    }

    /// As the file is written.
    #[must_use]
    pub fn written(&self) -> &str {
        &self.written
    }

    /// In the language of this tag, where it is known there.
    #[must_use]
    pub fn translated(&self, tag: &str) -> Option<&str> {
        self.translated.get(tag).map(String::as_str)
    }

    /// Adds what it is called in a language.
    pub fn translate(&mut self, tag: impl Into<String>, title: impl Into<String>) {
        self.translated.insert(tag.into(), title.into());
    }
}

/// As a text: what a scenario's hash is made of knows no translations.
impl fmt::Debug for Title {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(&self.written, f)
    }
}

impl Vehicle {
    /// The same with its titles in the language of this tag, where they are known there: for what draws titles as they are
    /// written.
    #[must_use]
    pub fn titled_in(&self, tag: &str) -> Self {
        let mut titled = self.clone();
        for title in titled.titles_mut() {
            if let Some(known) = title.translated.get(tag) {
                title.written.clone_from(known);
            }
        }
        titled
    }

    /// All its titles.
    pub fn titles_mut(&mut self) -> Vec<&mut Title> {
        let mut titles = vec![&mut self.title, &mut self.lid.title];
        titles.extend(self.panels.iter_mut().map(|x| &mut x.title));
        titles.extend(self.stations.iter_mut().map(|x| &mut x.title));
        titles.extend(self.splices.iter_mut().map(|x| &mut x.title));
        titles.extend(self.studs.iter_mut().map(|x| &mut x.title));
        titles.extend(self.fuses.iter_mut().map(|x| &mut x.title));
        titles.extend(self.connectors.iter_mut().flat_map(|x| [&mut x.title, &mut x.mate_title]));
        titles.extend(self.conductors.iter_mut().map(|x| &mut x.title));
        for part in &mut self.parts {
            titles.push(&mut part.title);
            if let PartKind::Module(module) = &mut part.kind {
                titles.extend(module.inputs.iter_mut().map(|x| &mut x.title));
                titles.extend(module.outputs.iter_mut().map(|x| &mut x.title));
                titles.extend(module.monitors.iter_mut().map(|x| &mut x.title));
            }
        }
        titles
    }
}
