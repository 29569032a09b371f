//! The letters: which fonts are embedded, and which characters they have.

use parley::fontique::{Blob, CharmapIndex, Collection, CollectionOptions, SourceCache};
use parley::{FontContext, GenericFamily};
use std::sync::Arc;

/// The files, in the order in which they are asked for a character.
const FILES: [&[u8]; 23] = [
    include_bytes!("../fonts/NotoSans-Regular.ttf"),
    include_bytes!("../fonts/NotoSans-Bold.ttf"),
    include_bytes!("../fonts/NotoSansDevanagari-Regular.ttf"),
    include_bytes!("../fonts/NotoSansArabic-Regular.ttf"),
    include_bytes!("../fonts/NotoSansArmenian-Regular.ttf"),
    include_bytes!("../fonts/NotoSansBengali-Regular.ttf"),
    include_bytes!("../fonts/NotoSansEthiopic-Regular.ttf"),
    include_bytes!("../fonts/NotoSansGeorgian-Regular.ttf"),
    include_bytes!("../fonts/NotoSansGujarati-Regular.ttf"),
    include_bytes!("../fonts/NotoSansGurmukhi-Regular.ttf"),
    include_bytes!("../fonts/NotoSansHebrew-Regular.ttf"),
    include_bytes!("../fonts/NotoSansKannada-Regular.ttf"),
    include_bytes!("../fonts/NotoSansKhmer-Regular.ttf"),
    include_bytes!("../fonts/NotoSansLao-Regular.ttf"),
    include_bytes!("../fonts/NotoSansMalayalam-Regular.ttf"),
    include_bytes!("../fonts/NotoSansMyanmar-Regular.ttf"),
    include_bytes!("../fonts/NotoSansOriya-Regular.ttf"),
    include_bytes!("../fonts/NotoSansSinhala-Regular.ttf"),
    include_bytes!("../fonts/NotoSansTamil-Regular.ttf"),
    include_bytes!("../fonts/NotoSansTelugu-Regular.ttf"),
    include_bytes!("../fonts/NotoSansThai-Regular.ttf"),
    include_bytes!("../fonts/NotoSansMath-Regular.ttf"),
    include_bytes!("../fonts/NotoSansSymbols2-Regular.ttf"),
];

/// The embedded fonts, and none of the machine's: the same text is set the same everywhere.
pub(crate) struct Fonts {
    pub(crate) context: FontContext,
    /// One for every file: what the setter calls it, its bytes, and where its table of characters is.
    known: Vec<Known>,
}

struct Known {
    id: u64,
    bytes: &'static [u8],
    charmap: Option<CharmapIndex>,
}

impl Fonts {
    pub(crate) fn embedded() -> Fonts {
        let options = CollectionOptions {
            shared: false,
            system_fonts: false,
        };
        let mut collection = Collection::new(options);
        let mut families = Vec::new();
        let mut known = Vec::new();
        for bytes in FILES {
            let blob = Blob::new(Arc::new(bytes));
            let id = blob.id();
            let registered = collection.register_fonts(blob, None);
            let charmap = registered
                .iter()
                .flat_map(|(_, fonts)| fonts)
                .map(|font| font.charmap_index())
                .next();
            known.push(Known { id, bytes, charmap });
            for (family, _) in registered {
                if !families.contains(&family) {
                    families.push(family);
                }
            }
        }
        collection.set_generic_families(GenericFamily::SansSerif, families.into_iter());
        let source_cache = SourceCache::default();
        let context = FontContext {
            collection,
            source_cache,
        };
        Fonts { context, known }
    }

    /// The bytes of the font that the setter calls so.
    pub(crate) fn bytes(&self, id: u64) -> Option<&'static [u8]> {
        let known = self.known.iter().find(|known| known.id == id);
        known.map(|known| known.bytes)
    }

    /// Some font has a shape for it.
    pub(crate) fn has(&self, character: char) -> bool {
        self.known.iter().any(|known| {
            let charmap = known.charmap.and_then(|index| index.charmap(known.bytes));
            let glyph = charmap.and_then(|charmap| charmap.map(character));
            glyph.is_some_and(|glyph| glyph != 0)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_is_a_letter_of_every_script_we_promise() {
        let fonts = Fonts::embedded();
        for letter in "aßωЖअبՀবሀაગਗאಕកກമမଓසதతก→≥×☐✓⚠🐔".chars()
        {
            if letter != '🐔' {
                assert!(fonts.has(letter), "{letter}");
            }
        }
        assert!(!fonts.has('米'));
    }
}
