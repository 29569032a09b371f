//! What each piece of text is, for who has the page read out: headings, tables, lists, the picture's description.

/// Which element a text belongs to; none for what is only there for the eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Tag(usize);

/// What an element is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Part,
    Title,
    Heading,
    Paragraph,
    Table,
    Row,
    HeadCell,
    Cell,
    Aside,
    /// With the same in sentences.
    Figure(String),
}

/// All elements, each after the one it stands in.
pub(crate) struct Tags {
    elements: Vec<Element>,
}

/// One element.
pub(crate) struct Element {
    pub(crate) kind: Kind,
    /// The one it stands in; none for those of the document itself.
    pub(crate) inside: Option<Tag>,
}

impl Tags {
    pub(crate) fn new() -> Tags {
        Tags {
            elements: Vec::new(),
        }
    }

    pub(crate) fn top(&mut self, kind: Kind) -> Tag {
        self.add(None, kind)
    }

    pub(crate) fn within(&mut self, inside: Tag, kind: Kind) -> Tag {
        self.add(Some(inside), kind)
    }

    fn add(&mut self, inside: Option<Tag>, kind: Kind) -> Tag {
        self.elements.push(Element { kind, inside });
        Tag(self.elements.len() - 1)
    }

    pub(crate) fn elements(&self) -> &[Element] {
        &self.elements
    }
}

impl Tag {
    pub(crate) fn index(self) -> usize {
        self.0
    }
}
