//! Collects the faults and warnings of one file while it is read, with the place of each.

use serde_json::Value;

use super::fault::{
    FAULT_LIMIT, Fault, FaultKind, FeatureRef, FileWarning, Place, Refusal, VertexRef, WarningKind,
};
use super::slot::{Slot, Vocabulary, WireObject, Word, is_remark};
use crate::BoundaryFault;

/// Above so many faults no similar names are looked for: comparing every id with every other is quadratic.
const SUGGESTION_LIMIT: usize = 20;

#[derive(Debug, Default)]
pub(crate) struct Log {
    feature: Option<FeatureRef>,
    member: Vec<String>,
    faults: Vec<Fault>,
    more: usize,
    warnings: Vec<FileWarning>,
    more_warnings: usize,
    /// Warnings that are the same for many features: their labels.
    together: Vec<(WarningKind, String)>,
}

impl Log {
    pub(crate) fn at_feature(&mut self, number: usize, id: Option<String>) {
        self.feature = Some(FeatureRef { number, id });
    }

    pub(crate) fn at_whole_file(&mut self) {
        self.feature = None;
    }

    /// Runs `read` one member further in.
    pub(crate) fn within<R>(&mut self, member: &str, read: impl FnOnce(&mut Self) -> R) -> R {
        self.member.push(member.to_owned());
        let found = read(self);
        self.member.pop();
        found
    }

    /// Runs `read` in an entry of a list, counted from 0.
    pub(crate) fn entry<R>(&mut self, index: usize, read: impl FnOnce(&mut Self) -> R) -> R {
        self.within(&format!("entry {}", index + 1), read)
    }

    /// The feature and the members that are being read, to come back to.
    pub(crate) fn here(&self) -> (Option<(usize, Option<String>)>, Vec<String>) {
        (self.feature.as_ref().map(|feature| (feature.number, feature.id.clone())), self.member.clone())
    }

    fn place(&self, vertex: Option<VertexRef>) -> Place {
        Place { feature: self.feature.clone(), member: self.member.clone(), vertex, line_column: None }
    }

    fn keep(&mut self, fault: Fault) {
        if self.faults.len() < FAULT_LIMIT {
            self.faults.push(fault);
        } else {
            self.more += 1;
        }
    }

    pub(crate) fn fault(&mut self, kind: FaultKind, text: impl Into<String>, mend: impl Into<String>) {
        let place = self.place(None);
        self.keep(Fault { place, kind, text: text.into(), mend: mend.into(), boundary: None });
    }

    pub(crate) fn fault_at(
        &mut self,
        vertex: VertexRef,
        kind: FaultKind,
        (text, mend): (impl Into<String>, impl Into<String>),
    ) {
        let place = self.place(Some(vertex));
        self.keep(Fault { place, kind, text: text.into(), mend: mend.into(), boundary: None });
    }

    /// A boundary that was refused, at a place of the file.
    pub(crate) fn boundary_fault(&mut self, vertex: VertexRef, fault: BoundaryFault) {
        let place = self.place(Some(vertex));
        let text = fault.to_string();
        let boundary = Some(Box::new(fault));
        self.keep(Fault { place, kind: FaultKind::Boundary, text, mend: String::new(), boundary });
    }

    pub(crate) fn fault_in_text(&mut self, line_column: (usize, usize), text: String, mend: &str) {
        let place = Place { line_column: Some(line_column), ..Place::default() };
        self.keep(Fault { place, kind: FaultKind::NotJson, text, mend: mend.into(), boundary: None });
    }

    pub(crate) fn warn(&mut self, kind: WarningKind, text: impl Into<String>) {
        let place = self.place(None);
        self.keep_warning(FileWarning { place, kind, text: text.into() });
    }

    /// Keeps a warning that is told once for all features which have it.
    pub(crate) fn warn_together(&mut self, kind: WarningKind) {
        let label = self.feature.as_ref().map_or(String::new(), FeatureRef::to_string);
        self.together.push((kind, label));
    }

    /// Tells the warnings of one kind that were kept; `text` says what is odd about those features.
    pub(crate) fn tell_together(&mut self, kind: WarningKind, text: &str) {
        const SHOWN: usize = 5;
        let labels: Vec<&str> =
            self.together.iter().filter(|(k, _)| *k == kind).map(|(_, label)| label.as_str()).collect();
        if labels.is_empty() {
            return;
        }
        let more = labels.len().saturating_sub(SHOWN);
        let list = labels.iter().take(SHOWN).copied().collect::<Vec<_>>().join(", ");
        let rest = if more > 0 { format!(" and {more} more") } else { String::new() };
        self.warn(kind, format!("{text}: {list}{rest}"));
    }

    pub(crate) fn warn_at(&mut self, vertex: VertexRef, kind: WarningKind, text: String) {
        let place = self.place(Some(vertex));
        self.keep_warning(FileWarning { place, kind, text });
    }

    fn keep_warning(&mut self, warning: FileWarning) {
        if self.warnings.len() < FAULT_LIMIT {
            self.warnings.push(warning);
        } else {
            self.more_warnings += 1;
        }
    }

    /// Takes in what was kept for the features after those of this log.
    pub(crate) fn append(&mut self, after: Self) {
        self.more += after.more;
        self.more_warnings += after.more_warnings;
        after.faults.into_iter().for_each(|fault| self.keep(fault));
        after.warnings.into_iter().for_each(|warning| self.keep_warning(warning));
        self.together.extend(after.together);
    }

    pub(crate) fn faults_so_far(&self) -> usize {
        self.faults.len() + self.more
    }

    /// The warnings, or everything that is wrong.
    pub(crate) fn finish(mut self) -> Result<Vec<FileWarning>, Refusal> {
        if self.faults.is_empty() {
            if self.more_warnings > 0 {
                let text = format!("{} more warnings are not listed", self.more_warnings);
                let kind = WarningKind::MoreWarnings;
                self.warnings.push(FileWarning { place: Place::default(), kind, text });
            }
            return Ok(self.warnings);
        }
        Err(Refusal { faults: self.faults, more: self.more })
    }

    /// Says `did you mean "…"?` where one of the choices is near; else nothing.
    pub(crate) fn did_you_mean(
        &self,
        given: &str,
        choices: impl IntoIterator<Item = impl AsRef<str>>,
    ) -> Option<String> {
        if self.faults.len() >= SUGGESTION_LIMIT {
            return None;
        }
        let near = nearest(given, choices).into_iter().next()?;
        Some(format!("did you mean \"{}\"?", near.as_ref()))
    }
}

/// Reading single members.
impl Log {
    /// What a slot holds; a fault if that is wrong.
    pub(crate) fn given<'s, T>(&mut self, name: &str, slot: &'s Slot<T>, mend: &str) -> Option<&'s T> {
        match slot {
            Slot::Missing => None,
            Slot::Given(given) => Some(given.as_ref()),
            Slot::Wrong(value) => {
                self.within(name, |log| log.wrong(value, mend));
                None
            }
        }
    }

    /// What a slot holds; a fault if there is nothing or it is wrong.
    pub(crate) fn needed<'s, T>(&mut self, name: &str, slot: &'s Slot<T>, mend: &str) -> Option<&'s T> {
        if slot.is_missing() {
            self.missing(name, mend);
        }
        self.given(name, slot, mend)
    }

    pub(crate) fn missing(&mut self, name: &str, mend: &str) {
        self.fault(FaultKind::MissingMember, format!("\"{name}\" is missing"), mend);
    }

    pub(crate) fn wrong(&mut self, value: &Value, mend: &str) {
        self.fault(FaultKind::WrongValue, format!("{} cannot be read here", shown(value)), mend);
    }

    /// A text; a fault if it is empty.
    pub(crate) fn text(&mut self, name: &str, slot: &Slot<String>) -> Option<String> {
        let given = self.given(name, slot, "write a text in quotes")?;
        self.within(name, |log| log.own_text(given))
    }

    /// A text that has to be there.
    pub(crate) fn needed_text(&mut self, name: &str, slot: &Slot<String>, mend: &str) -> Option<String> {
        let given = self.needed(name, slot, mend)?;
        self.within(name, |log| log.own_text(given))
    }

    pub(crate) fn own_text(&mut self, given: &str) -> Option<String> {
        if given.trim().is_empty() {
            self.fault(FaultKind::WrongValue, "is empty", "fill it in, or leave it out");
            return None;
        }
        let control = given.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\r' | '\t'));
        if let Some(control) = control {
            // such characters can rewrite what a terminal shows
            let text = format!("{} holds the control character U+{:04X}", shown_text(given), control as u32);
            self.fault(FaultKind::WrongValue, text, "take it out");
            return None;
        }
        Some(given.trim().to_owned())
    }

    /// A list; a fault for each entry that is wrong or `null`.
    pub(crate) fn entries<T, R>(
        &mut self,
        name: &str,
        slot: &Slot<Vec<Slot<T>>>,
        (mend_list, mend_entry): (&str, &str),
        mut read: impl FnMut(&mut Self, &T) -> Option<R>,
    ) -> Option<Vec<R>> {
        let list = self.given(name, slot, mend_list)?;
        Some(self.within(name, |log| {
            let mut found = Vec::with_capacity(list.len());
            for (i, entry) in list.iter().enumerate() {
                log.entry(i, |log| match entry {
                    Slot::Missing => log.wrong(&Value::Null, mend_entry),
                    Slot::Given(given) => found.extend(read(log, given)),
                    Slot::Wrong(value) => log.wrong(value, mend_entry),
                });
            }
            found
        }))
    }

    /// A list of texts; empty if missing.
    pub(crate) fn texts(&mut self, name: &str, slot: &Slot<Vec<Slot<String>>>) -> Vec<String> {
        let mends = ("write a list of texts: [\"…\", \"…\"]", "write a text in quotes");
        self.entries(name, slot, mends, |log, given| log.own_text(given)).unwrap_or_default()
    }

    /// A fault if a list is there but empty, which would say something else than leaving it out.
    pub(crate) fn not_empty_list<T>(&mut self, name: &str, slot: &Slot<Vec<T>>, mend: &str) {
        if slot.get().is_some_and(Vec::is_empty) {
            self.within(name, |log| log.fault(FaultKind::WrongValue, "is an empty list", mend));
        }
    }

    /// One word of a fixed list.
    pub(crate) fn word<V: Vocabulary>(&mut self, name: &str, slot: &Slot<Word<V>>) -> Option<V> {
        match slot {
            Slot::Missing => None,
            Slot::Given(word) => Some(word.0.clone()),
            Slot::Wrong(value) => {
                self.within(name, |log| log.wrong_word::<V>(value));
                None
            }
        }
    }

    /// A list of words of a fixed list.
    pub(crate) fn words<V: Vocabulary>(&mut self, name: &str, slot: &Slot<Vec<Slot<Word<V>>>>) -> Vec<V> {
        let Some(list) = self.given(name, slot, "write a list of words: [\"…\", \"…\"]") else {
            return Vec::new();
        };
        self.within(name, |log| {
            let read = |(i, entry): (usize, &Slot<Word<V>>)| match entry {
                Slot::Given(word) => Some(word.0.clone()),
                Slot::Missing => log.entry(i, |log| log.wrong_word(&Value::Null)),
                Slot::Wrong(value) => log.entry(i, |log| log.wrong_word(value)),
            };
            list.iter().enumerate().filter_map(read).collect()
        })
    }

    /// Reports a value that is none of the words; returns nothing, in the type that the caller needs.
    pub(crate) fn wrong_word<V: Vocabulary>(&mut self, value: &Value) -> Option<V> {
        let choices = Word::<V>::choices();
        let near = value.as_str().and_then(|given| self.did_you_mean(given, &choices));
        let list = choices.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ");
        let mend = near.unwrap_or_else(|| format!("write one of {list}"));
        self.fault(FaultKind::WrongValue, format!("{} is not one of {list}", shown(value)), mend);
        None
    }

    /// A number of at least `least`.
    pub(crate) fn number(&mut self, name: &str, slot: &Slot<f64>, (least, mend): (f64, &str)) -> Option<f64> {
        let given = *self.given(name, slot, mend)?;
        if given.is_finite() && given >= least {
            return Some(given);
        }
        self.within(name, |log| log.fault(FaultKind::WrongValue, format!("{given} is too small"), mend));
        None
    }

    /// Reports members that the format does not know.
    pub(crate) fn unknown_members<T: WireObject>(&mut self, object: &T) {
        for key in object.other().keys() {
            self.unknown_member::<T>(key);
        }
    }

    /// Reports a member that the format does not know, unless it is a remark.
    pub(crate) fn unknown_member<T: WireObject>(&mut self, key: &str) {
        if is_remark(key) {
            return;
        }
        let own = "if it is a remark of your own, start its name with \"x-\"";
        let mend = self.did_you_mean(key, T::KEYS);
        let mend = mend.map_or(own.to_owned(), |near| format!("{near} or {own}"));
        self.fault(
            FaultKind::UnknownMember,
            format!("the member {} has no meaning here", shown_text(key)),
            mend,
        );
    }
}

/// A value as the file has it, cut short.
pub(crate) fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => shown_text(text),
        Value::Array(list) if list.len() > 6 => format!("a list of {} entries", list.len()),
        Value::Object(_) => "an object { … }".to_owned(),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::Array(_) => cut(&value.to_string()),
    }
}

/// A text in quotes, cut short, on one line.
pub(crate) fn shown_text(text: &str) -> String {
    format!("\"{}\"", cut(text).escape_debug())
}

fn cut(text: &str) -> String {
    const LONGEST: usize = 60;
    if text.chars().count() <= LONGEST {
        return text.to_owned();
    }
    text.chars().take(LONGEST).chain("…".chars()).collect()
}

/// The choices that are near to what was given, the nearest first: a third of its letters may differ.
///
/// Only the first 5000 choices are looked at, and no text of more than 64 bytes.
pub(crate) fn nearest<T: AsRef<str>>(given: &str, choices: impl IntoIterator<Item = T>) -> Vec<T> {
    const LONGEST: usize = 64;
    if given.len() > LONGEST {
        return Vec::new();
    }
    let lower = given.to_lowercase();
    let largest = given.chars().count().max(4) / 3;
    let choices = choices.into_iter().take(5000).filter(|choice| choice.as_ref().len() <= LONGEST);
    let distances =
        choices.map(|choice| (strsim::damerau_levenshtein(&lower, &choice.as_ref().to_lowercase()), choice));
    let mut near: Vec<(usize, T)> = distances.filter(|(distance, _)| *distance <= largest).collect();
    near.sort_by_key(|(distance, _)| *distance);
    near.into_iter().map(|(_, choice)| choice).collect()
}
