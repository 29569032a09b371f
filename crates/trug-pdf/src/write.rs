//! Pages, contents and elements, as a file.

use crate::Unwritable;
use crate::flow::{Page, Section, Size};
use crate::pen::Pen;
use crate::tags::{Kind, Tags};
use crate::text::Setter;
use krilla::configure::{Configuration, ConfigurationBuilder, PdfVersion};
use krilla::destination::XyzDestination;
use krilla::geom::Point;
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::tagging::{Identifier, Node, TableHeaderScope, Tag, TagGroup, TagTree};
use krilla::{Document, SerializeSettings};
use std::num::NonZeroU16;
use trug_report::sheet::Booklet;

/// Writes the sections one after the other.
pub(crate) fn document(
    setter: &mut Setter,
    booklet: &Booklet,
    size: Size,
    sections: &[Section],
) -> Result<Vec<u8>, Unwritable> {
    let mut document = Document::new_with(settings()?);
    let mut outline = Outline::new();
    let mut tree = TagTree::new().with_lang(Some(booklet.phrases.clone()));
    let mut pen = Pen::new();
    let mut count = 0;
    for section in sections {
        let mut leaves = vec![Vec::new(); section.tags.elements().len()];
        for page in &section.pages {
            draw(&mut document, setter, &mut pen, size, page, &mut leaves)?;
            if let Some(entry) = &page.entry {
                let top = XyzDestination::new(count, Point::from_xy(0.0, 0.0));
                outline.push_child(OutlineNode::new(entry.clone(), top));
            }
            count += 1;
        }
        for node in elements(&section.tags, leaves) {
            tree.push(node);
        }
    }
    if sections.len() > 1 {
        document.set_outline(outline);
    }
    document.set_tag_tree(tree);
    document.set_metadata(
        Metadata::new()
            .title(booklet.title.clone())
            .language(booklet.phrases.clone()),
    );
    document.finish().map_err(|error| Unwritable {
        why: format!("{error:?}"),
    })
}

/// Version 1.7, which every printer and telephone reads; nothing that differs from run to run.
fn settings() -> Result<SerializeSettings, Unwritable> {
    let configuration: Configuration = ConfigurationBuilder::new()
        .with_version(PdfVersion::Pdf17)
        .finish()
        .map_err(|error| Unwritable {
            why: format!("{error:?}"),
        })?;
    Ok(SerializeSettings {
        configuration,
        ..SerializeSettings::default()
    })
}

fn draw(
    document: &mut Document,
    setter: &mut Setter,
    pen: &mut Pen,
    size: Size,
    page: &Page,
    leaves: &mut [Vec<Identifier>],
) -> Result<(), Unwritable> {
    let settings = PageSettings::from_wh(size.width, size.height).ok_or_else(|| Unwritable {
        why: "the paper has no size".to_owned(),
    })?;
    let mut drawn = document.start_page_with(settings);
    let mut surface = drawn.surface();
    if let Some(word) = &page.behind {
        pen.behind(&mut surface, setter, word, size);
    }
    for ink in &page.ink {
        if let Some((tag, identifier)) = pen.ink(&mut surface, setter, ink)
            && let Some(leaves) = leaves.get_mut(tag.index())
        {
            leaves.push(identifier);
        }
    }
    surface.finish();
    drawn.finish();
    Ok(())
}

/// The elements as a tree; those that nothing was drawn for are left out.
fn elements(tags: &Tags, leaves: Vec<Vec<Identifier>>) -> Vec<Node> {
    let mut inside: Vec<Vec<Node>> = Vec::new();
    for identifiers in leaves {
        inside.push(identifiers.into_iter().rev().map(Node::from).collect());
    }
    let mut top = Vec::new();
    // Each element stands behind the one it is in, so from the last to the first every one is whole when it is taken.
    for (index, element) in tags.elements().iter().enumerate().rev() {
        let mut children = std::mem::take(&mut inside[index]);
        if children.is_empty() {
            continue;
        }
        children.reverse();
        let node = Node::from(group(&element.kind, children));
        match element.inside {
            Some(tag) => inside[tag.index()].push(node),
            None => top.push(node),
        }
    }
    top.reverse();
    top
}

fn group(kind: &Kind, children: Vec<Node>) -> TagGroup {
    let second = NonZeroU16::MIN.saturating_add(1);
    match kind {
        Kind::Part => TagGroup::with_children(Tag::Part, children),
        Kind::Title => TagGroup::with_children(Tag::Hn(NonZeroU16::MIN, None), children),
        Kind::Heading => TagGroup::with_children(Tag::Hn(second, None), children),
        Kind::Paragraph => TagGroup::with_children(Tag::P, children),
        Kind::Table => TagGroup::with_children(Tag::Table, children),
        Kind::Row => TagGroup::with_children(Tag::TR, children),
        Kind::HeadCell => TagGroup::with_children(Tag::TH(TableHeaderScope::Column), children),
        Kind::Cell => TagGroup::with_children(Tag::TD, children),
        Kind::Aside => TagGroup::with_children(Tag::Div, children),
        Kind::Figure(said) => TagGroup::with_children(Tag::Figure(Some(said.clone())), children),
    }
}
