//! Any number of threads gives the same bytes, of every command that works on several texts at once.

use std::fs;
use std::path::Path;

use crate::farm::{Farm, Ran, ran};

/// How many threads; the first is what the others are held to.
const THREADS: [&str; 3] = ["1", "2", "8"];
/// Farms that are made up beside the examples.
const MADE_UP: usize = 24;

/// What is asked of the folder: the examples under `river` and `small`, what is made up under `many`, and again, with
/// other amounts, under `other`.
const ASKED: [&[&str]; 22] = [
    &["check", ".", "--as", "human"],
    &["check", ".", "--as", "lines"],
    &["check", ".", "--as", "json"],
    &["check", ".", "--as", "sarif"],
    &["plan", ".", "--as", "text"],
    &["plan", ".", "--as", "jsonl"],
    &["plan", ".", "--as", "csv"],
    &["plan", "river", "--as", "html"],
    &["analyse", ".", "--as", "text"],
    &["analyse", ".", "--as", "jsonl"],
    &["analyse", ".", "--as", "html"],
    &["balance", ".", "--as", "text"],
    &["balance", ".", "--as", "jsonl"],
    &["balance", ".", "--as", "html"],
    &["compare", "many", "other", "--as", "text"],
    &["compare", "many", "other", "--as", "json"],
    &["compare", "many", "other", "--as", "markdown"],
    &["compare", "many", "other", "--as", "html"],
    &["buy", "river", "--as", "json"],
    &["buy", "river", "--as", "csv"],
    &["tidy", ".", "--check"],
    &["why", "maize", "river"],
];

#[test]
fn every_command_says_the_same_for_any_number_of_threads() {
    let farm = folder();
    for asked in ASKED {
        let with = |threads: &str| -> Ran {
            // Both ways of saying it: the tool's own, and that of the library that makes the threads.
            ran(farm
                .command(asked)
                .env("TRUG_THREADS", threads)
                .env("RAYON_NUM_THREADS", threads))
        };
        let alone = with(THREADS[0]);
        assert!(
            !alone.out.is_empty() || !alone.err.is_empty(),
            "{asked:?} says nothing"
        );
        for threads in &THREADS[1..] {
            let several = with(threads);
            assert_eq!(several.code, alone.code, "{asked:?} on {threads}");
            assert!(
                several.out == alone.out,
                "{asked:?} prints something else on {threads}"
            );
            assert!(
                several.err == alone.err,
                "{asked:?} says something else on {threads}"
            );
        }
    }
}

pub(crate) fn folder() -> Farm {
    let farm = Farm::new(&[]);
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    copy(&examples.join("river-farm"), &farm, "river");
    copy(&examples.join("small"), &farm, "small");
    for number in 0..MADE_UP {
        for (folder, more) in [("many", 0), ("other", 1 + number % 3)] {
            farm.put(
                &format!("{folder}/store-{}.trug", number % 5),
                store(number % 5),
            );
            farm.put(
                &format!("{folder}/yard-{number}/mash.trug"),
                mash(number, more),
            );
        }
    }
    farm
}

fn copy(from: &Path, farm: &Farm, to: &str) {
    let mut paths: Vec<_> = fs::read_dir(from)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.sort();
    for path in paths {
        let name = format!("{to}/{}", path.file_name().unwrap().to_string_lossy());
        if path.is_dir() {
            copy(&path, farm, &name);
        } else {
            farm.put(&name, fs::read(&path).unwrap());
        }
    }
}

/// Prices and contents that are a little other in each.
fn store(number: usize) -> String {
    let feeds = [
        ("maize", 88, 30),
        ("broken-rice", 80, 28),
        ("soya-meal", 440, 62),
        ("rice-bran", 127, 17),
    ];
    let feeds = feeds.map(|(name, protein, price)| {
        format!(
            "ingredient {name}\n  dry-matter     88 %\n  protein        {}.{number} g/kg\n  bulk-density   0.6 kg/L\n  price          0.{} USD/kg\n",
            protein + number,
            price + number
        )
    });
    feeds.concat()
        + "scale bench 5 kg by 1 g\nscale hook 100 kg by 100 g\nvessel basin 3 of 30 L\nnutrient protein in share\n"
}

/// Rations: one that is open, one that holds it, one that does not sum up, one that is broken.
fn mash(number: usize, more: usize) -> String {
    let shared = format!("use \"../store-{}.trug\"\n\n", number % 5);
    let open = format!(
        "targets lean-{number} for hen\n  protein        at least {} %\nanimal hen\n\nration open-{number}\n  for            hen\n  meets          lean-{number}\n  \
         batch          {} kg\n  maize          20 .. 70 %\n  soya-meal      3 .. 40 %\n  rice-bran      rest\n",
        14 + number % 4,
        20 + number
    );
    let closed = format!(
        "\nration mash-{number}\n  for            mixing\n  batch          {} kg\n  maize          {} %\n  soya-meal      {}.5 %\n  broken-rice    rest\n",
        15 + 7 * number,
        30 + number + more,
        2 + number % 9
    );
    let wrong = match number % 4 {
        0 => format!(
            "\nration over-{number}\n  for            mixing\n  maize 61.{number:02} %\n  rice-bran      40 %\n"
        ),
        1 => format!(
            "\nration unread-{number}\n  for            mixing\n  maize          6,1 %\n  rice-bran      rst\n"
        ),
        _ => String::new(),
    };
    shared + &open + &closed + &wrong
}
