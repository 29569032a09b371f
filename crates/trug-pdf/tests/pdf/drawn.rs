//! Sheets made by hand, drawn and read back.

use crate::support::texts::{SCRIPTS, hostile};
use crate::support::{booklet, draft, drawn, pages_text, sheet, text};
use lopdf::{Document, Object};
use trug_pdf::{Paper, pdf};
use trug_report::sheet::{Booklet, DayOrder, Draft, Fact, Sheet};

#[test]
fn a_small_sheet_is_one_page_with_all_that_is_on_it() {
    let (drawn, read) = drawn("small", &booklet(vec![sheet(4, 5, 1, 3)]), Paper::A4);
    assert_eq!(read.get_pages().len(), 1);
    assert!(drawn.undrawable.is_empty());
    let text = text(&read);
    for expected in [
        "Laying mash for the ducks by the river",
        "batch 1 of 3",
        "BEWARE",
        "Not for goats or sheep",
        "for step 2",
        "Soya meal, 44 %",
        "2026-03-B",
        "2.176 to 2.224 kg",
        "in 3 loads",
        "Dust harms lungs",
        "turn it over 12 times.",
        "1.7413 kg",
        "TOTALS of one batch",
        "1.2 kg + 2.7 kg = 3.9 kg",
        "0.2 to 4 g/kg",
        "aired twice",
        "come before this sheet",
        "Label: cut out",
        "keeps until",
        "Keep away from goats",
    ] {
        assert!(text.contains(expected), "{expected} is not in\n{text}");
    }
}

#[test]
fn twenty_ingredients_in_twenty_eight_weighings_are_one_page() {
    let full = booklet(vec![sheet(20, 28, 8, 15)]);
    let (_, read) = drawn("full", &full, Paper::A4);
    assert_eq!(read.get_pages().len(), 1);
    let (_, read) = drawn(
        "letter",
        &booklet(vec![sheet(20, 24, 6, 12)]),
        Paper::Letter,
    );
    assert_eq!(read.get_pages().len(), 1);
}

#[test]
fn every_page_of_a_draft_says_so_and_why() {
    let mut long = sheet(20, 60, 20, 15);
    long.draft = Some(draft());
    let mut two = booklet(vec![long, sheet(4, 5, 1, 3)]);
    two.day = Some(day(&two.sheets));
    let (_, read) = drawn("draft", &two, Paper::Letter);
    let pages = pages_text(&read);
    assert!(pages.len() > 3);
    let (last, drafts) = pages.split_last().unwrap();
    for page in drafts {
        assert!(
            page.contains("DRAFT") && page.contains("Not to be mixed as it is"),
            "{page}"
        );
    }
    assert!(!last.contains("DRAFT"), "the second sheet is none: {last}");
}

#[test]
fn further_pages_repeat_title_and_columns_and_are_numbered() {
    let (_, read) = drawn("long", &booklet(vec![sheet(20, 90, 10, 15)]), Paper::A4);
    let pages = pages_text(&read);
    assert!(pages.len() > 1);
    for (index, page) in pages.iter().enumerate() {
        let number = format!("{}/{}", index + 1, pages.len());
        assert!(page.contains(&number), "{number} is not in\n{page}");
        assert!(page.contains("Laying mash for the ducks"), "{page}");
    }
    assert!(pages[1].contains("scale may read"), "{}", pages[1]);
    for number in 1..=90 {
        let range = format!("{number}.176 to {number}.224 kg");
        let times: usize = pages.iter().map(|page| page.matches(&range).count()).sum();
        assert!(times > 0, "{range} is on no page");
    }
}

fn day(sheets: &[Sheet]) -> DayOrder {
    let row = |(index, sheet): (usize, &Sheet)| {
        let see_to = if index == 1 {
            "clean the tubs after it"
        } else {
            ""
        };
        let number = (index + 1).to_string();
        [
            number,
            sheet.title.clone(),
            "120 kg".to_owned(),
            see_to.to_owned(),
        ]
    };
    DayOrder {
        heading: "ORDER OF THE DAY".to_owned(),
        columns: ["sheet", "what is mixed", "how much", "see to"].map(str::to_owned),
        rows: sheets.iter().enumerate().map(row).collect(),
    }
}

#[test]
fn the_order_of_the_day_comes_first() {
    let mut three = booklet(vec![
        sheet(4, 5, 1, 3),
        sheet(8, 9, 2, 3),
        sheet(6, 7, 0, 0),
    ]);
    three.day = Some(day(&three.sheets));
    let (_, read) = drawn("day", &three, Paper::A4);
    let pages = pages_text(&read);
    assert_eq!(pages.len(), 4);
    assert!(pages[0].contains("ORDER OF THE DAY"), "{}", pages[0]);
    assert!(pages[0].contains("clean the tubs after it"), "{}", pages[0]);
}

#[test]
fn the_paper_is_as_asked_and_its_lists_are_complete() {
    for (paper, width, height) in [(Paper::A4, 595.276, 841.89), (Paper::Letter, 612.0, 792.0)] {
        let (_, read) = drawn("paper", &booklet(vec![sheet(4, 5, 1, 3)]), paper);
        let page = *read.get_pages().get(&1).unwrap();
        let media = read.get_dictionary(page).unwrap().get(b"MediaBox").unwrap();
        let sides: Vec<f32> = media
            .as_array()
            .unwrap()
            .iter()
            .map(|side| side.as_float().unwrap())
            .collect();
        assert!(
            (sides[2] - width).abs() < 0.1 && (sides[3] - height).abs() < 0.1,
            "{sides:?}"
        );
    }
}

#[test]
fn fonts_are_embedded_and_every_letter_has_its_character() {
    let (_, read) = drawn("fonts", &many_scripts(), Paper::A4);
    let mut fonts = 0;
    for object in read.objects.values() {
        let Ok(dictionary) = object.as_dict() else {
            continue;
        };
        let kind = dictionary.get(b"Type").and_then(Object::as_name).ok();
        if kind == Some(b"Font") && dictionary.has(b"DescendantFonts") {
            assert!(dictionary.has(b"ToUnicode"));
            fonts += 1;
        }
        if kind == Some(b"FontDescriptor") {
            let file = dictionary.has(b"FontFile2") || dictionary.has(b"FontFile3");
            assert!(file, "{dictionary:?}");
        }
    }
    assert!(fonts >= 20, "{fonts}");
}

/// Labels of every script, and phrases in Hindi.
fn many_scripts() -> Booklet {
    let mut sheet = sheet(12, 21, 0, 4);
    let rows = sheet
        .weigh
        .blocks
        .iter_mut()
        .flat_map(|block| &mut block.rows);
    for (row, (_, text)) in rows.zip(SCRIPTS) {
        row.what = text.to_owned();
        row.cautions = vec![format!("{text}: {text}")];
    }
    sheet.title = "तारा आहार, तालाब के बत्तखों के लिए".to_owned();
    sheet.weigh.heading = "काम के क्रम में तौलें".to_owned();
    sheet.mix.heading = "मिलाएँ".to_owned();
    sheet.label.alarm = Some("यह चारा नहीं है".to_owned());
    let mut booklet = booklet(vec![sheet]);
    booklet.phrases = "hi".to_owned();
    booklet
}

#[test]
fn every_script_we_have_letters_for_is_drawn() {
    let (drawn, read) = drawn("scripts", &many_scripts(), Paper::A4);
    assert_eq!(drawn.undrawable, Vec::<char>::new());
    let text = text(&read);
    assert!(text.contains("Τροφή για πρόβατα"), "{text}");
    assert!(text.contains("Корм для уток"), "{text}");
}

#[test]
fn what_has_no_letters_is_a_box_and_is_said() {
    let mut sheet = sheet(4, 5, 1, 3);
    sheet.weigh.blocks[0].rows[0].what = "鴨 maize 米鴨".to_owned();
    let (drawn, read) = drawn("boxes", &booklet(vec![sheet]), Paper::A4);
    assert_eq!(drawn.undrawable, ['米', '鴨']);
    assert!(text(&read).contains("maize"));
}

#[test]
fn names_meant_to_do_harm_do_none() {
    for (index, bad) in hostile().into_iter().enumerate() {
        let mut sheet = sheet(4, 5, 2, 3);
        sheet.title = bad.clone();
        sheet.subtitle = Some(bad.clone());
        sheet.facts.push(Fact {
            what: bad.clone(),
            value: bad.clone(),
        });
        for row in sheet
            .weigh
            .blocks
            .iter_mut()
            .flat_map(|block| &mut block.rows)
        {
            row.what = bad.clone();
            row.lot = Some(bad.clone());
            row.cautions.push(bad.clone());
        }
        sheet.mix.steps[0].text = bad.clone();
        sheet.doses.as_mut().unwrap().rows[0].what = bad.clone();
        sheet.label.title = bad.clone();
        sheet.label.alarm = Some(bad.clone());
        sheet.draft = Some(Draft {
            word: bad.clone(),
            why: bad.clone(),
        });
        let mut booklet = booklet(vec![sheet]);
        booklet.title = bad.clone();
        booklet.day = Some(day(&booklet.sheets));
        let (_, read) = drawn(&format!("hostile-{index}"), &booklet, Paper::A4);
        let text = text(&read);
        for range in [
            "1.176 to 1.224 kg",
            "5.176 to 5.224 kg",
            "come before this sheet",
        ] {
            assert!(text.contains(range), "{bad:?}: {range} is not in\n{text}");
        }
    }
}

#[test]
fn a_name_higher_than_a_page_is_cut_between_lines_and_all_of_it_drawn() {
    let mut sheet = sheet(4, 5, 0, 0);
    let words: Vec<String> = (0..4000).map(|number| format!("w{number}")).collect();
    sheet.weigh.blocks[0].rows[1].what = words.join(" ");
    sheet.mix.steps[0].text = words.join(" ");
    let (_, read) = drawn("endless", &booklet(vec![sheet]), Paper::A4);
    let text = text(&read);
    for word in ["w0", "w1777", "w3999"] {
        let times = text.split_whitespace().filter(|it| *it == word).count();
        assert_eq!(times, 2, "{word}");
    }
}

#[test]
fn the_same_booklet_is_the_same_bytes_on_any_thread() {
    let booklet = many_scripts();
    let first = pdf(&booklet, Paper::A4).unwrap();
    let others: Vec<_> = std::thread::scope(|scope| {
        let run = || scope.spawn(|| pdf(&booklet, Paper::A4).unwrap());
        let running: Vec<_> = (0..3).map(|_| run()).collect();
        running.into_iter().map(|it| it.join().unwrap()).collect()
    });
    for other in others {
        assert!(first == other, "the bytes differ");
    }
}

#[test]
fn the_file_says_what_it_is_and_nothing_of_when() {
    let mut booklet = booklet(vec![sheet(4, 5, 1, 3)]);
    booklet.phrases = "hi".to_owned();
    let (drawn, read) = drawn("about", &booklet, Paper::A4);
    assert!(drawn.bytes.starts_with(b"%PDF-1.7"));
    let catalog = read.catalog().unwrap();
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"hi");
    assert!(catalog.has(b"StructTreeRoot"), "it is tagged");
    let info = read.trailer.get(b"Info").unwrap().as_reference().unwrap();
    let info = read.get_dictionary(info).unwrap();
    assert_eq!(
        info.get(b"Title").unwrap().as_str().unwrap(),
        b"Laying mash"
    );
    assert!(!info.has(b"CreationDate") && !info.has(b"ModDate"));
    let raw = String::from_utf8_lossy(&drawn.bytes);
    assert!(!raw.contains("CreateDate"), "nor in the metadata");
}

#[test]
fn an_empty_booklet_is_still_a_document() {
    let read = Document::load_mem(&pdf(&booklet(Vec::new()), Paper::A4).unwrap().bytes).unwrap();
    assert_eq!(read.get_pages().len(), 1);
}
