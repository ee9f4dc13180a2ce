//! Well-known text of coordinate systems, as far as it has to be understood to say which datum degrees are on.

/// How deep nodes may be nested.
const DEEPEST: usize = 32;

/// `KEYWORD["text", 1.0, CHILD[…]]`.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Node {
    /// In capitals.
    pub(super) keyword: String,
    pub(super) texts: Vec<String>,
    /// Bare words, in capitals: `NORTH`.
    pub(super) words: Vec<String>,
    pub(super) numbers: Vec<f64>,
    pub(super) children: Vec<Node>,
}

impl Node {
    pub(super) fn first(&self, keywords: &[&str]) -> Option<&Self> {
        self.children.iter().find(|child| keywords.contains(&child.keyword.as_str()))
    }

    /// Itself, or the first below it that is one of these.
    pub(super) fn anywhere(&self, keywords: &[&str]) -> Option<&Self> {
        if keywords.contains(&self.keyword.as_str()) {
            return Some(self);
        }
        self.children.iter().find_map(|child| child.anywhere(keywords))
    }

    pub(super) fn text(&self) -> Option<&str> {
        self.texts.first().map(String::as_str)
    }
}

/// Reads one node and nothing after it.
pub(super) fn parse(text: &str) -> Option<Node> {
    let mut rest = text.trim();
    let node = node(&mut rest, 0)?;
    rest.trim().is_empty().then_some(node)
}

fn node(rest: &mut &str, depth: usize) -> Option<Node> {
    let keyword = word(rest)?;
    if depth > DEEPEST || !taken(rest, &['[', '(']) {
        return None;
    }
    let mut read = Node { keyword: keyword.to_ascii_uppercase(), ..Node::default() };
    loop {
        *rest = rest.trim_start();
        if rest.starts_with('"') {
            read.texts.push(quoted(rest)?);
        } else if rest.starts_with(|first: char| first.is_ascii_digit() || "+-.".contains(first)) {
            read.numbers.push(number(rest)?);
        } else {
            child(rest, &mut read, depth)?;
        }
        if taken(rest, &[']', ')']) {
            return Some(read);
        }
        if !taken(rest, &[',']) {
            return None;
        }
    }
}

/// A node, or a bare word such as `north`.
fn child(rest: &mut &str, parent: &mut Node, depth: usize) -> Option<()> {
    let mut after = *rest;
    let bare = word(&mut after)?;
    if after.trim_start().starts_with(['[', '(']) {
        parent.children.push(node(rest, depth + 1)?);
    } else {
        parent.words.push(bare.to_ascii_uppercase());
        *rest = after;
    }
    Some(())
}

fn word<'t>(rest: &mut &'t str) -> Option<&'t str> {
    *rest = rest.trim_start();
    let end =
        rest.find(|letter: char| !letter.is_ascii_alphanumeric() && letter != '_').unwrap_or(rest.len());
    let (word, after) = rest.split_at(end);
    *rest = after;
    (!word.is_empty()).then_some(word)
}

fn number(rest: &mut &str) -> Option<f64> {
    let is_of_it = |letter: char| letter.is_ascii_digit() || "+-.eE".contains(letter);
    let end = rest.find(|letter| !is_of_it(letter)).unwrap_or(rest.len());
    let (number, after) = rest.split_at(end);
    *rest = after;
    number.parse().ok().filter(|number: &f64| number.is_finite())
}

/// Text between quotes; a quote in it is written twice.
fn quoted(rest: &mut &str) -> Option<String> {
    let mut text = String::new();
    let mut after = rest.strip_prefix('"')?;
    loop {
        let (piece, behind) = after.split_once('"')?;
        text.push_str(piece);
        let Some(more) = behind.strip_prefix('"') else {
            *rest = behind;
            return Some(text);
        };
        text.push('"');
        after = more;
    }
}

fn taken(rest: &mut &str, marks: &[char]) -> bool {
    *rest = rest.trim_start();
    let after = rest.strip_prefix(marks);
    *rest = after.unwrap_or(rest);
    after.is_some()
}
