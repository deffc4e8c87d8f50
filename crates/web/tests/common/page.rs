//! A page taken apart as strictly as XML: the pages are written by a macro that closes what it opens.

use std::collections::BTreeSet;

/// Elements that have no end.
const VOID: [&str; 6] = ["meta", "link", "input", "img", "br", "hr"];

/// An element's beginning.
#[derive(Debug)]
pub(crate) struct Tag {
    pub(crate) name: String,
    pub(crate) attributes: Vec<(String, String)>,
    /// All text within it.
    pub(crate) text: String,
}

impl Tag {
    pub(crate) fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }
}

/// A page's elements, in order.
#[derive(Debug)]
pub(crate) struct Page {
    pub(crate) tags: Vec<Tag>,
}

impl Page {
    /// Reads a page or a piece of one. What is not closed, or quoted, or in place, fails the test.
    pub(crate) fn read(html: &str) -> Page {
        let mut tags: Vec<Tag> = Vec::new();
        let mut open: Vec<usize> = Vec::new();
        let mut rest = html.strip_prefix("<!DOCTYPE html>").unwrap_or(html);
        while let Some(start) = rest.find('<') {
            let text = unescaped(&rest[..start]);
            open.iter().for_each(|&at| tags[at].text.push_str(&text));
            rest = &rest[start + 1..];
            if let Some(after) = rest.strip_prefix('/') {
                let (name, after) = after.split_once('>').expect("an end tag ends");
                let at = open.pop().unwrap_or_else(|| panic!("</{name}> closes nothing"));
                assert_eq!(tags[at].name, name, "</{name}> closes <{}>", tags[at].name);
                rest = after;
                continue;
            }
            let (tag, closed, after) = begin(rest);
            rest = after;
            if !closed && !VOID.contains(&tag.name.as_str()) {
                open.push(tags.len());
            }
            tags.push(tag);
        }
        assert!(open.is_empty(), "{} elements are not closed", open.len());
        Page { tags }
    }

    pub(crate) fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Tag> {
        self.tags.iter().filter(move |tag| tag.name == name)
    }

    /// The text of the first element with an attribute of this value.
    pub(crate) fn text_of(&self, name: &str, value: &str) -> String {
        let tag = self.tags.iter().find(|tag| tag.attribute(name) == Some(value));
        tag.map(|tag| tag.text.trim().to_owned()).unwrap_or_default()
    }

    /// The value of the first field of this name.
    pub(crate) fn field(&self, name: &str) -> String {
        let named = |kind| self.all(kind).find(|tag| tag.attribute("name") == Some(name));
        if let Some(written) = named("textarea") {
            return written.text.trim().to_owned();
        }
        named("input").and_then(|tag| tag.attribute("value")).unwrap_or_default().to_owned()
    }

    pub(crate) fn ids(&self) -> BTreeSet<&str> {
        self.tags.iter().filter_map(|tag| tag.attribute("id")).collect()
    }

    /// What holds of every page.
    pub(crate) fn must_be_sound(&self, path: &str) {
        let ids = self.tags.iter().filter_map(|tag| tag.attribute("id")).count();
        assert_eq!(ids, self.ids().len(), "{path}: an id stands twice");
        assert_eq!(self.all("main").count(), 1, "{path}: one main");
        assert_eq!(self.all("h1").count(), 1, "{path}: one heading");
        assert!(!self.all("h1").next().unwrap().text.trim().is_empty(), "{path}: the heading has words");
        assert!(self.all("title").all(|title| !title.text.is_empty()), "{path}: a title");
        assert_eq!(self.all("html").next().unwrap().attribute("lang"), Some("en"), "{path}");
        for label in self.all("label") {
            let of = label.attribute("for").unwrap_or_else(|| panic!("{path}: a label of nothing"));
            let field = self.tags.iter().find(|tag| tag.attribute("id") == Some(of));
            let field = field.unwrap_or_else(|| panic!("{path}: no field {of}"));
            assert!(
                ["input", "select", "textarea"].contains(&field.name.as_str()),
                "{path}: {of} is no field"
            );
        }
        for field in
            self.tags.iter().filter(|tag| ["input", "select", "textarea"].contains(&tag.name.as_str()))
        {
            // A picture that is pressed is described by its own words.
            let picture = field.attribute("type") == Some("image")
                && field.attribute("alt").is_some_and(|words| !words.is_empty());
            let shown = field.attribute("type") != Some("hidden") && !picture;
            let labelled = self.all("label").any(|label| label.attribute("for") == field.attribute("id"));
            assert!(!shown || labelled, "{path}: a field without a label: {field:?}");
        }
        for image in self.all("img") {
            assert!(image.attribute("alt").is_some(), "{path}: a picture without words");
        }
        for tag in &self.tags {
            for (name, value) in &tag.attributes {
                assert!(!name.starts_with("on") && name != "style", "{path}: {name} in {}", tag.name);
                let leads = ["href", "src", "action", "formaction"].contains(&name.as_str());
                let own = value.starts_with('/') && !value.starts_with("//")
                    || value.starts_with('#')
                    || value == "data:,";
                assert!(!leads || own, "{path}: {name} leads to {value}");
            }
        }
        for script in self.all("script") {
            assert!(
                script.attribute("src").is_some() && script.text.is_empty(),
                "{path}: a script in the page"
            );
        }
    }
}

/// The beginning of an element after its `<`: the tag, whether it closes itself, and what comes after.
fn begin(text: &str) -> (Tag, bool, &str) {
    let end = text.find(|sign: char| sign.is_whitespace() || sign == '>' || sign == '/').expect("a tag ends");
    let (name, mut rest) = text.split_at(end);
    assert!(
        name.starts_with(|sign: char| sign.is_ascii_lowercase()),
        "an unescaped sign before {:?}",
        &text[..end]
    );
    let mut attributes: Vec<(String, String)> = Vec::new();
    loop {
        rest = rest.trim_start();
        let (closed, after) = match rest.strip_prefix("/>") {
            Some(after) => (true, Some(after)),
            None => (false, rest.strip_prefix('>')),
        };
        if let Some(after) = after {
            return (Tag { name: name.to_owned(), attributes, text: String::new() }, closed, after);
        }
        let end = rest.find(['=', '>', ' ', '/']).expect("an attribute ends");
        let known = rest[..end].to_owned();
        assert!(attributes.iter().all(|(name, _)| *name != known), "{known} stands twice in <{name}>");
        rest = &rest[end..];
        let Some(value) = rest.strip_prefix("=\"") else {
            attributes.push((known, String::new()));
            continue;
        };
        let (value, after) = value.split_once('"').expect("a quoted value ends");
        assert!(!value.contains('<'), "an unescaped sign in {value}");
        attributes.push((known, unescaped(value)));
        rest = after;
    }
}

fn unescaped(text: &str) -> String {
    assert!(!text.contains('>'), "an unescaped sign in {text}");
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}
