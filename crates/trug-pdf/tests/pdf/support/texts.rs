//! Names in many scripts, and names that were meant to do harm.

/// Sheep feed, roughly, in the scripts of farming countries; each with the script's name.
pub(crate) const SCRIPTS: [(&str, &str); 21] = [
    ("Latin", "Körnermischung für Enten, ñandú Œuf"),
    ("Greek", "Τροφή για πρόβατα"),
    ("Cyrillic", "Корм для уток и овец"),
    ("Devanagari", "बत्तख का चारा, श्रीमान्"),
    ("Arabic", "علف البط البياض ١٢٫٥"),
    ("Hebrew", "תערובת לברווזים"),
    ("Armenian", "Բադերի կեր"),
    ("Bengali", "হাঁসের খাদ্য মিশ্রণ"),
    ("Ethiopic", "የዳክዬ መኖ"),
    ("Georgian", "იხვის საკვები"),
    ("Gujarati", "બતકનો ખોરાક"),
    ("Gurmukhi", "ਬੱਤਖ ਦਾ ਚਾਰਾ"),
    ("Kannada", "ಬಾತುಕೋಳಿ ಆಹಾರ"),
    ("Khmer", "ចំណីទា ក្រុម"),
    ("Lao", "ອາຫານເປັດ"),
    ("Malayalam", "താറാവ് തീറ്റ"),
    ("Myanmar", "ဘဲစာ ကြက်စာ"),
    ("Oriya", "ବତକ ଖାଦ୍ୟ"),
    ("Sinhala", "තාරා ආහාර මිශ්‍රණය"),
    ("Tamil", "வாத்து தீவனம்"),
    ("Telugu", "బాతు దాణా క్షీర"),
];

/// What may stand in a text for mischief or by accident.
pub(crate) fn hostile() -> Vec<String> {
    vec![
        String::new(),
        " ".to_owned(),
        "\n\n".to_owned(),
        "a\u{0}b\u{1b}[31mc\u{7f}".to_owned(),
        "\u{202E}gk 2.1 :tlas\u{2066}".to_owned(),
        "<b>&amp;</b> (Tj) \\( %PDF <</S /JavaScript>> endobj".to_owned(),
        "🐔👩‍🌾🇱🇰❤️ 1️⃣".to_owned(),
        "鴨の餌".to_owned(),
        format!("Z{}algo", "\u{300}\u{302}\u{489}".repeat(40)),
        "word".repeat(125),
        "two words ".repeat(50),
        "\u{FEFF}\u{FFFE}\u{10FFFF}\u{E000}\u{AD}\u{200D}".to_owned(),
        "क्".repeat(200),
        "س".repeat(500),
    ]
}
