//! Attributes of a source as members of a zone.

use std::collections::{BTreeMap, HashMap};

use serde_json::{Map, Value, json};
use takeline::rule::WRITE_THE_RULE;
use takeline::sanitised;

use super::fault::ImportFault;
use super::layer::{SourceFeature, number};
use super::mapping::{Mapping, may_be_imported};
use super::note::{NoteKind, Notes};

/// A member that can be mapped.
pub(super) struct Member {
    pub(super) name: &'static str,
    kind: Kind,
    /// Where it goes: the members that lead to it.
    path: &'static [&'static str],
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// Goes elsewhere: id, take.
    Own,
    Text,
    /// A list of one text.
    OneText,
    Number,
    /// As it is.
    Any,
}

const fn member(name: &'static str, kind: Kind, path: &'static [&'static str]) -> Member {
    Member { name, kind, path }
}

/// All that can be mapped.
pub(super) const MEMBERS: [Member; 23] = [
    member("id", Kind::Own, &[]),
    member("name", Kind::Text, &["name"]),
    member("edges", Kind::Any, &["edges"]),
    member("radius_m", Kind::Number, &["radius_m"]),
    member("line_uncertainty_m", Kind::Number, &["line_uncertainty_m"]),
    member("on_the_line", Kind::Text, &["on_the_line"]),
    member("time_zone", Kind::Text, &["time_zone"]),
    member("status", Kind::Text, &["status"]),
    member("take", Kind::Own, &["take"]),
    member("possession", Kind::Text, &["possession"]),
    member("may_change_by_notice", Kind::Any, &["may_change_by_notice"]),
    member("condition", Kind::OneText, &["conditions"]),
    member("when", Kind::Any, &["when"]),
    member("effective_from", Kind::Text, &["effective", "from"]),
    member("effective_until", Kind::Text, &["effective", "until"]),
    member("effective_last_day", Kind::Text, &["effective", "last_day"]),
    member("instrument", Kind::Text, &["source", "instrument"]),
    member("clause", Kind::Text, &["source", "clause"]),
    member("quoted_text", Kind::Text, &["source", "quoted_text"]),
    member("url", Kind::Text, &["source", "url"]),
    member("retrieved", Kind::Text, &["source", "retrieved"]),
    member("licence", Kind::Text, &["source", "licence"]),
    member("comment", Kind::Text, &["comment"]),
];

/// What a zone says, but for its shape.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Said {
    pub(super) properties: Map<String, Value>,
    /// What the source does not say and a zone file needs.
    pub(super) missing: Vec<&'static str>,
    /// Attributes that nothing maps.
    pub(super) others: Map<String, Value>,
}

/// What a zone whose rule nobody stated is conditional on.
const NO_RULE: &str = "the file that this zone was imported from states no rule";

/// Reads all members but the id.
pub(super) fn read(
    feature: &SourceFeature,
    mapping: &Mapping,
    (label, notes): (&str, &mut Notes),
) -> Result<Said, ImportFault> {
    let mut said = Said { properties: Map::new(), missing: Vec::new(), others: Map::new() };
    for member in &MEMBERS {
        if member.kind == Kind::Own {
            continue;
        }
        let guessed = || attribute(feature, "name").filter(|_| member.name == "name");
        if let Some(value) = mapped(feature, mapping, member.name).or_else(guessed) {
            let value = converted(value, member, (&feature.place, notes))?;
            put(&mut said.properties, member.path, value);
        }
    }
    add_take(feature, mapping, (&mut said, notes))?;
    add_source(label, &mut said);
    if !mapping.drop_other_attributes {
        let name = (!mapping.fields.contains_key("name")).then_some("name");
        let mapped = mapping.fields.values().map(String::as_str).chain(name);
        let mapped: Vec<&str> = mapped.filter_map(|field| Some(named(feature, field)?.0.as_str())).collect();
        let others = feature.attributes.iter().filter(|(name, _)| !mapped.contains(&name.as_str()));
        said.others = others.cloned().collect();
    }
    Ok(said)
}

/// Attributes of the same name in one feature: one that says the same as the first counts once, any other gets a name of its own.
pub(super) fn tell_apart(features: &mut [SourceFeature], notes: &mut Notes) {
    let mut renamed: BTreeMap<String, usize> = BTreeMap::new();
    for feature in features {
        let mut kept: Vec<(String, Value)> = Vec::with_capacity(feature.attributes.len());
        // where the first of each name is, and how many there were
        let mut known: HashMap<String, (usize, usize)> = HashMap::new();
        for (name, value) in std::mem::take(&mut feature.attributes) {
            let Some((first, count)) = known.get_mut(&name) else {
                known.insert(name.clone(), (kept.len(), 1));
                kept.push((name, value));
                continue;
            };
            if kept[*first].1 == value {
                continue;
            }
            *count += 1;
            let own = format!("{name} ({count})");
            *renamed.entry(name).or_default() += 1;
            known.insert(own.clone(), (kept.len(), 1));
            kept.push((own, value));
        }
        feature.attributes = kept;
    }
    for (name, count) in renamed {
        notes.changed(
            "",
            format!("{name:?} is given twice in one feature and says two things, {count} times: what comes later is called \"{name} (2)\" and so on"),
        );
    }
}

/// The attribute that a member comes from, or what is the same for all.
fn mapped<'v>(feature: &'v SourceFeature, mapping: &'v Mapping, name: &str) -> Option<&'v Value> {
    let of_field = mapping.fields.get(name).and_then(|field| attribute(feature, field));
    of_field.or_else(|| mapping.constants.get(name))
}

/// An attribute by its name, in capitals or not; none where it is blank.
pub(super) fn attribute<'f>(feature: &'f SourceFeature, name: &str) -> Option<&'f Value> {
    named(feature, name).map(|(_, value)| value).filter(|value| !is_blank(value))
}

fn named<'f>(feature: &'f SourceFeature, name: &str) -> Option<&'f (String, Value)> {
    let exact = feature.attributes.iter().find(|(known, _)| known == name);
    exact.or_else(|| feature.attributes.iter().find(|(known, _)| known.eq_ignore_ascii_case(name)))
}

fn is_blank(value: &Value) -> bool {
    value.is_null() || value.as_str().is_some_and(|text| text.trim().is_empty())
}

/// A value as text that a zone file may hold.
pub(super) fn text_of(value: &Value, (place, notes): (&str, &mut Notes)) -> String {
    let text = value.as_str().map_or_else(|| value.to_string(), |text| text.trim().to_owned());
    let line = sanitised::line(&text);
    if line != text {
        notes.changed(place, format!("line breaks and control characters in {line:?}"));
    }
    line.trim().to_owned()
}

fn converted(
    value: &Value,
    member: &Member,
    (place, notes): (&str, &mut Notes),
) -> Result<Value, ImportFault> {
    match member.kind {
        Kind::Text => Ok(Value::from(text_of(value, (place, notes)))),
        Kind::OneText => Ok(json!([text_of(value, (place, notes))])),
        Kind::Number => {
            let of_text = || number(place, member.name, value.as_str()?).ok();
            value.as_f64().or_else(of_text).map(Value::from).ok_or_else(|| {
                ImportFault::at(
                    place,
                    format!("{value} is no number, and {} is one", member.name),
                    "mend it in the source, or map another attribute",
                )
            })
        }
        Kind::Own | Kind::Any => Ok(value.clone()),
    }
}

fn put(properties: &mut Map<String, Value>, path: &[&str], value: Value) {
    match path {
        [] => {}
        [last] => {
            properties.insert((*last).to_owned(), value);
        }
        [first, rest @ ..] => {
            let inner = properties.entry((*first).to_owned()).or_insert_with(|| Value::Object(Map::new()));
            if let Some(inner) = inner.as_object_mut() {
                put(inner, rest, value);
            }
        }
    }
}

/// What may be taken, or that nobody knows: then the rule is in force at times that nobody can know, so that every answer that it
/// matters for is undecided.
fn add_take(
    feature: &SourceFeature,
    mapping: &Mapping,
    (said, notes): (&mut Said, &mut Notes),
) -> Result<(), ImportFault> {
    let words = mapping.fields.get("take").and_then(|field| attribute(feature, field));
    let words = words.map(|words| text_of(words, (&feature.place, notes)));
    let of_words = words.as_deref().and_then(|words| mapping.take_of(words));
    if let (Some(words), None) = (&words, of_words) {
        notes.add(
            NoteKind::FillIn,
            &feature.place,
            format!("[take] of the mapping does not say what {words:?} means, so the rule is left open"),
        );
    }
    // words that nobody explains are not what is the same for all
    let constant = mapping.constants.get("take").filter(|_| words.is_none());
    let Some(take) = of_words.or(constant) else {
        said.missing.push("take");
        said.properties.insert("take".into(), "none".into());
        said.properties
            .insert("when".into(), json!({ "unknowable": format!("{NO_RULE}: {WRITE_THE_RULE}") }));
        return Ok(());
    };
    may_be_imported(take).map_err(|why| {
        ImportFault::at(&feature.place, format!("the rule {take} is not imported: {why}"), "")
    })?;
    said.properties.insert("take".into(), take.clone());
    Ok(())
}

fn add_source(label: &str, said: &mut Said) {
    if said.properties.get("source").and_then(|source| source.get("instrument")).is_some() {
        return;
    }
    said.missing.push("source");
    put(&mut said.properties, &["source", "instrument"], format!("not stated; imported from {label}").into());
}
