//! Writes what a fuzzer begins with: a folder for each target and the words of the language, `seeds FOLDER`.

use std::fs;
use std::path::Path;

use trug_tests::hostile::{OF_TEXTS, TARGETS, seeds};

fn main() -> std::io::Result<()> {
    let folder = std::env::args_os().nth(1).unwrap_or_else(|| "seeds".into());
    for (target, _) in TARGETS {
        let inside = Path::new(&folder).join(target);
        fs::create_dir_all(&inside)?;
        let seeds = match target {
            "table" => seeds::tables(),
            target if OF_TEXTS.contains(&target) => seeds::farms(),
            _ => Vec::new(),
        };
        for (name, bytes) in seeds {
            fs::write(inside.join(name), bytes)?;
        }
    }
    fs::write(Path::new(&folder).join("words.dict"), seeds::dictionary())
}
