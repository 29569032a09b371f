//! A page read as a browser reads it.

use std::collections::BTreeMap;

use html5ever::tendril::TendrilSink as _;
use html5ever::tokenizer::TokenizerOpts;
use html5ever::{ParseOpts, parse_document};
use markup5ever_rcdom::{Handle, NodeData, RcDom};

/// An element with what is in it.
#[derive(Debug)]
pub(crate) struct Element {
    pub(crate) name: String,
    pub(crate) attributes: BTreeMap<String, String>,
    children: Vec<Child>,
}

#[derive(Debug)]
enum Child {
    Text(String),
    Element(Element),
}

/// The page, and what a browser had to put right in it.
pub(crate) fn read(page: &str) -> (Element, Vec<String>) {
    let options = ParseOpts {
        tokenizer: TokenizerOpts {
            exact_errors: true,
            ..TokenizerOpts::default()
        },
        ..ParseOpts::default()
    };
    let dom = parse_document(RcDom::default(), options).one(page);
    let errors = dom
        .errors
        .borrow()
        .iter()
        .map(ToString::to_string)
        .collect();
    let root = Element {
        name: String::new(),
        attributes: BTreeMap::new(),
        children: children(&dom.document),
    };
    (root, errors)
}

fn children(node: &Handle) -> Vec<Child> {
    let mut found = Vec::new();
    for child in node.children.borrow().iter() {
        match &child.data {
            NodeData::Text { contents } => found.push(Child::Text(contents.borrow().to_string())),
            NodeData::Element { name, attrs, .. } => found.push(Child::Element(Element {
                name: name.local.to_string(),
                attributes: attrs
                    .borrow()
                    .iter()
                    .map(|it| (it.name.local.to_string(), it.value.to_string()))
                    .collect(),
                children: children(child),
            })),
            _ => {}
        }
    }
    found
}

impl Element {
    /// All elements in this one, in the order of the page.
    pub(crate) fn all(&self) -> Vec<&Self> {
        let mut found = Vec::new();
        for child in &self.children {
            if let Child::Element(element) = child {
                found.push(element);
                found.extend(element.all());
            }
        }
        found
    }

    pub(crate) fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.get(name).map(String::as_str)
    }

    /// All that is written in it.
    pub(crate) fn text(&self) -> String {
        let of = |child: &Child| match child {
            Child::Text(text) => text.clone(),
            Child::Element(element) => element.text(),
        };
        self.children.iter().map(of).collect()
    }
}
