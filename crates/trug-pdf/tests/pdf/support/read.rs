//! A PDF as who has it read out hears it: its elements in their order, with the letters that are drawn for each.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Encoding, Object, ObjectId};

/// One element, with the text drawn for it and the elements in it.
#[derive(Debug)]
pub(crate) struct Element {
    /// `H1`, `P`, `TR`, `TD`, …
    pub(crate) kind: String,
    pub(crate) text: String,
    pub(crate) inside: Vec<Element>,
}

/// What is drawn for each mark of each page.
type Marked = BTreeMap<(ObjectId, i64), String>;

/// The elements of the document itself: a part for the order of the day, and one for every sheet.
pub(crate) fn elements(read: &Document) -> Vec<Element> {
    let mut marked = Marked::new();
    for page in read.get_pages().into_values() {
        marked.extend(
            of_page(read, page)
                .into_iter()
                .map(|(mark, text)| ((page, mark), text)),
        );
    }
    let root = read.catalog().unwrap().get(b"StructTreeRoot").unwrap();
    let root = element(read, root, None, &marked).unwrap();
    let mut tops = root.inside;
    // The tree may have one element round all others.
    while let [only] = tops.as_mut_slice() {
        if only.kind != "Document" {
            break;
        }
        tops = std::mem::take(&mut only.inside);
    }
    tops
}

impl Element {
    /// The elements that hold text of their own, in the order in which they are read, each with its kind.
    pub(crate) fn leaves(&self) -> Vec<(&str, &str)> {
        let own = (!self.text.is_empty()).then_some((self.kind.as_str(), self.text.as_str()));
        own.into_iter()
            .chain(self.inside.iter().flat_map(Element::leaves))
            .collect()
    }
}

fn element(
    read: &Document,
    object: &Object,
    page: Option<ObjectId>,
    marked: &Marked,
) -> Option<Element> {
    let (_, object) = read.dereference(object).unwrap();
    let Ok(dictionary) = object.as_dict() else {
        return None;
    };
    let own_page = dictionary.get(b"Pg").and_then(Object::as_reference).ok();
    let page = own_page.or(page);
    let kind = dictionary
        .get(b"S")
        .and_then(Object::as_name)
        .unwrap_or_default();
    let mut made = Element {
        kind: String::from_utf8(kind.to_vec()).unwrap(),
        text: String::new(),
        inside: Vec::new(),
    };
    let Ok(kids) = dictionary.get(b"K") else {
        return Some(made);
    };
    let (_, kids) = read.dereference(kids).unwrap();
    let alone = [kids.clone()];
    let kids = kids.as_array().map_or(alone.as_slice(), Vec::as_slice);
    for kid in kids {
        let (_, kid_object) = read.dereference(kid).unwrap();
        let mark =
            match kid_object {
                Object::Integer(mark) => Some((page.unwrap(), *mark)),
                Object::Dictionary(of_page) => of_page
                    .get(b"MCID")
                    .and_then(Object::as_i64)
                    .ok()
                    .map(|mark| {
                        let own = of_page.get(b"Pg").and_then(Object::as_reference).ok();
                        (own.or(page).unwrap(), mark)
                    }),
                _ => None,
            };
        match mark {
            Some(mark) => {
                if let Some(text) = marked.get(&mark) {
                    made.text.push_str(text);
                }
            }
            None => made.inside.extend(element(read, kid, page, marked)),
        }
    }
    Some(made)
}

/// The letters of each mark of a page; between two runs of letters there is a blank.
fn of_page(read: &Document, page: ObjectId) -> BTreeMap<i64, String> {
    let fonts = read.get_page_fonts(page).unwrap();
    let encodings: BTreeMap<Vec<u8>, Encoding<'_>> = fonts
        .into_iter()
        .map(|(name, font): (Vec<u8>, &Dictionary)| (name, font.get_font_encoding(read).unwrap()))
        .collect();
    let content = read.get_and_decode_page_content(page).unwrap();
    let mut texts: BTreeMap<i64, String> = BTreeMap::new();
    let mut marks: Vec<Option<i64>> = Vec::new();
    let mut font: Option<&Encoding<'_>> = None;
    for operation in &content.operations {
        let operands = operation.operands.as_slice();
        match operation.operator.as_str() {
            "BDC" | "BMC" => {
                let mark = operands.get(1).and_then(|it| it.as_dict().ok());
                let mark = mark.and_then(|it| it.get(b"MCID").ok()?.as_i64().ok());
                marks.push(mark);
            }
            "EMC" => {
                marks.pop();
            }
            "Tf" => font = encodings.get(operands[0].as_name().unwrap()),
            "Tj" | "TJ" => {
                let Some(mark) = marks.iter().rev().find_map(|mark| *mark) else {
                    continue;
                };
                let text = texts.entry(mark).or_default();
                let strings = match &operands[0] {
                    Object::Array(strings) => strings.as_slice(),
                    _ => operands,
                };
                for string in strings {
                    if let Object::String(bytes, _) = string {
                        text.push_str(&Document::decode_text(font.unwrap(), bytes).unwrap());
                    }
                }
            }
            "ET" => {
                if let Some(mark) = marks.iter().rev().find_map(|mark| *mark) {
                    texts.entry(mark).or_default().push(' ');
                }
            }
            _ => {}
        }
    }
    texts
}
