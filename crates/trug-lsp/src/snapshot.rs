//! Everything as it was at one moment: what a request is answered on.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use trug_findings::{FileId, Place, Source, Span};
use trug_model::Farm;

use crate::abilities::Abilities;
use crate::area::Base;
use crate::documents::Document;
use crate::lsp::{Location, Position, Range, SemanticTokens, Url};
use crate::naming;
use crate::position::{Encoding, Lines};
use crate::reports::Reports;
use crate::settings::Settings;
use crate::world::World;

/// How the client looks at texts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Eye {
    pub(crate) encoding: Encoding,
    pub(crate) settings: Settings,
    pub(crate) abilities: Abilities,
}

/// One area at one moment.
#[derive(Debug)]
pub(crate) struct AreaShot {
    pub(crate) base: Arc<Base>,
    /// What the client calls the texts it has open.
    pub(crate) uris: Arc<BTreeMap<String, Url>>,
    pub(crate) farm: Arc<Farm>,
    pub(crate) reports: Arc<Mutex<Reports>>,
    pub(crate) revision: u64,
}

/// The session at one moment.
pub(crate) struct Snapshot {
    pub(crate) areas: Vec<Arc<AreaShot>>,
    pub(crate) documents: Arc<BTreeMap<Url, Document>>,
    pub(crate) eye: Arc<Eye>,
    pub(crate) world: Arc<dyn World>,
    pub(crate) tokens: Tokens,
}

/// The tokens that clients were last told, from which they are told what changed.
pub(crate) type Tokens = Arc<Mutex<BTreeMap<Url, SemanticTokens>>>;

/// Whether whoever asked has lost interest.
pub(crate) struct Cancel<'a>(pub(crate) &'a (dyn Fn() -> bool + Sync));

impl Cancel<'_> {
    /// Asked now and then by whatever takes long.
    pub(crate) fn is_wanted(&self) -> bool {
        !(self.0)()
    }
}

impl AreaShot {
    /// The text of that number.
    pub(crate) fn source(&self, file: FileId) -> Option<&Source> {
        self.farm.sources().get(file.index())
    }

    /// The address of a text: the client's own where it has it open.
    pub(crate) fn uri_of(&self, name: &str) -> Option<Url> {
        if let Some(uri) = self.uris.get(name) {
            return Some(uri.clone());
        }
        naming::book_uri(name).or_else(|| Url::from_file_path(self.base.path_of(name)?).ok())
    }
}

impl Snapshot {
    /// The text at an address, for reading.
    pub(crate) fn text(&self, uri: &Url) -> Option<Text<'_>> {
        let document = self.documents.get(uri);
        let (area, name) = match document {
            Some(document) => (self.area(document.area)?, document.name.clone()),
            None => self.named(uri)?,
        };
        let file = area.farm.file(&name)?;
        let text = Text {
            eye: &self.eye,
            area,
            file,
            lines: RefCell::default(),
        };
        if let (Some(document), Some(source)) = (document, area.source(file))
            && Arc::ptr_eq(&document.text, &source.shared_text())
        {
            text.lines
                .borrow_mut()
                .insert(file, Arc::clone(&document.lines));
        }
        Some(text)
    }

    /// The area and the name of an address that is not open.
    pub(crate) fn named(&self, uri: &Url) -> Option<(&AreaShot, String)> {
        if let Some(name) = naming::book_name(uri) {
            let knows = |area: &&Arc<AreaShot>| area.farm.file(&name).is_some();
            return self
                .areas
                .iter()
                .find(knows)
                .map(|area| (&**area, name.clone()));
        }
        let path = self.world.canonical(&naming::path(uri)?);
        let below =
            |area: &Arc<AreaShot>| Some((area.base.root.clone()?, area.base.name_of(&path)?));
        let areas = self
            .areas
            .iter()
            .filter_map(|area| Some((area, below(area)?)));
        let (area, (_, name)) = areas.max_by_key(|(_, (root, _))| root.components().count())?;
        Some((area, name))
    }

    fn area(&self, id: u32) -> Option<&AreaShot> {
        self.areas
            .iter()
            .find(|area| area.base.id == id)
            .map(|area| &**area)
    }
}

/// A text of a farm, read with the client's positions.
pub(crate) struct Text<'a> {
    pub(crate) eye: &'a Eye,
    pub(crate) area: &'a AreaShot,
    pub(crate) file: FileId,
    lines: RefCell<BTreeMap<FileId, Arc<Lines>>>,
}

impl<'a> Text<'a> {
    /// A text of an area, by its number.
    pub(crate) fn of(eye: &'a Eye, area: &'a AreaShot, file: FileId) -> Text<'a> {
        Text {
            eye,
            area,
            file,
            lines: RefCell::default(),
        }
    }

    pub(crate) fn farm(&self) -> &'a Farm {
        &self.area.farm
    }

    /// All of it.
    pub(crate) fn whole(&self) -> &'a str {
        self.area.source(self.file).map_or("", Source::text)
    }

    /// The offset of a position.
    pub(crate) fn offset(&self, position: Position) -> usize {
        let lines = self.lines(self.file);
        lines.offset(self.whole(), position, self.eye.encoding)
    }

    /// The span of a range.
    pub(crate) fn span(&self, range: Range) -> Span {
        let bytes = self
            .lines(self.file)
            .bytes(self.whole(), range, self.eye.encoding);
        Span::new(bytes.start, bytes.end)
    }

    /// The range of a span of this text.
    pub(crate) fn range(&self, span: Span) -> Range {
        self.range_in(Place::new(self.file, span))
    }

    /// The position of an offset of this text.
    pub(crate) fn position(&self, offset: usize) -> Position {
        self.lines(self.file)
            .position(self.whole(), offset, self.eye.encoding)
    }

    /// The range of a place, whatever text it is in.
    pub(crate) fn range_in(&self, place: Place) -> Range {
        let text = self.area.source(place.file).map_or("", Source::text);
        self.lines(place.file)
            .range(text, place.span, self.eye.encoding)
    }

    /// The place as the client is told it.
    pub(crate) fn location(&self, place: Place) -> Option<Location> {
        let uri = self.uri(place.file)?;
        Some(Location::new(uri, self.range_in(place)))
    }

    /// The address of a text of the same farm.
    pub(crate) fn uri(&self, file: FileId) -> Option<Url> {
        self.area.uri_of(self.area.source(file)?.name())
    }

    fn lines(&self, file: FileId) -> Arc<Lines> {
        let mut known = self.lines.borrow_mut();
        let make = || Arc::new(Lines::of(self.area.source(file).map_or("", Source::text)));
        Arc::clone(known.entry(file).or_insert_with(make))
    }
}
