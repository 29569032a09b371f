//! What the texts of a farm mean, sentence by sentence of the language page: texts in, codes and places out.

#![expect(clippy::expect_used, reason = "a test says what it expects")]

use trug_model::{Farm, InMemory, Settings};

/// What is said of these texts: `severity[code] what stands there`, with the file where there are several.
fn said(texts: &[(&str, &str)]) -> Vec<String> {
    let names: Vec<String> = texts.iter().map(|(name, _)| (*name).to_owned()).collect();
    let held = InMemory::new(texts.iter().copied());
    let farm = Farm::read(&names, &held, Settings::default());
    let line = |finding: &trug_findings::Finding| {
        let source = &farm.sources()[finding.place.file.index()];
        let there = finding.place.span.of(source.text());
        let file = if texts.len() > 1 {
            format!("{}: ", source.name())
        } else {
            String::new()
        };
        let accepted = if finding.is_open() { "" } else { " (accepted)" };
        format!(
            "{file}{}[{}] {there}{accepted}",
            finding.severity.word(),
            finding.code.name
        )
    };
    farm.check().iter().map(line).collect()
}

/// What is said of one text.
fn says(text: &str) -> Vec<String> {
    said(&[("farm.trug", text)])
}

#[test]
fn probe() {
    let cases: &[(&str, &[(&str, &str)])] = &[
        ("ration circle", &[("a.trug", "animal duck\nration a\n  for duck\n  b 100 %\nration b\n  for duck\n  a 100 %\n")]),
        ("ration self", &[("a.trug", "animal duck\nration a\n  for duck\n  a 100 %\n")]),
        ("like self", &[("a.trug", "animal duck\nration a like a\n  for duck\n")]),
        ("like circle", &[("a.trug", "animal duck\nration a like b\n  for duck\nration b like a\n")]),
        ("nutrient circle", &[("a.trug", "nutrient a = b + b\nnutrient b = a + a\n")]),
        ("unknown replace", &[("a.trug", "animal duck\ningredient maize\nration a\n  for duck\n  maize 100 %\nration b like a\n  replace maize with mais\n")]),
        ("replace across files", &[("a.trug", "use \"b.trug\"\ningredient mais\n  at most 10 %\nration b like a\n  replace maize with mais\n"), ("b.trug", "animal duck\ningredient maize\nration a\n  for duck\n  maize 100 %\n")]),
        ("two for", &[("a.trug", "animal duck\nanimal sheep\ningredient maize\nration a\n  for duck\n  for sheep\n  batch 10 kg\n  batch 20 kg\n  maize 100 %\n")]),
        ("two dry matters", &[("a.trug", "ingredient maize\n  dry-matter 80 %\n  dry-matter 90 %\n  form meal\n  form grain\n")]),
        ("IU of two", &[("a.trug", "nutrient vitamin-a in IU\nnutrient vitamin-d in IU\nnutrient v = vitamin-a + vitamin-d\nanimal duck\ntargets t for duck\n  vitamin-a + vitamin-d at least 100 IU/kg\n")]),
        ("beside never for", &[("a.trug", "animal goat\ningredient hay\ningredient rhubarb\n  never for goat \"oxalate\"\nration a\n  for goat\n  intake 2 kg/day\n  beside rhubarb 1 kg/day\n  hay 100 %\n")]),
        ("beside harm no intake", &[("a.trug", "nutrient copper in share\nanimal goat\n  copper at most 25 mg/kg harm \"x\"\ningredient hay\n  copper 6 mg/kg\n  dry-matter 86 %\ningredient grass\n  copper 3 mg/kg\n  dry-matter 20 %\nration a\n  for goat\n  beside grass 1 kg/day\n  hay 100 %\n")]),
        ("group eats mixing", &[("a.trug", "animal duck\ningredient maize\nration a\n  for mixing\n  maize 100 %\ngroup g\n  40 duck\n  eats a 100 g/day\n")]),
        ("group eats before animals", &[("a.trug", "animal duck\nanimal sheep\ningredient maize\nration a\n  for duck\n  maize 100 %\ngroup g\n  eats a 100 g/day\n  40 sheep\n")]),
        ("nested open", &[("a.trug", "animal duck\ningredient maize\n  ceiling 10 %\ningredient rice\nration m\n  for mixing\n  maize 20 .. 40 %\n  rice rest\nration a\n  for duck\n  m 100 %\n")]),
        ("deep nest", &[("a.trug", DEEP)]),
        ("lot dry matter", &[("a.trug", "nutrient protein in share\nanimal duck\ntargets t for duck\n  protein at least 16 %\ningredient silage\n  dry-matter 40 %\n  protein 50 % of dry-matter\nlot S-1 of silage\n  dry-matter 30 %\nration a\n  for duck\n  meets t\n  silage 100 % lot S-1\n")]),
        ("loosened child", &[("a.trug", "use book poultry\nanimal laying-duck\n  selenium at most 1 mg/kg law \"x\"\n")]),
        ("loosened other basis", &[("a.trug", "use book poultry\nanimal sheep\n  copper at most 26 mg/kg harm \"x\"\n  copper at most 27 mg/kg of dry-matter harm \"x\"\n")]),
        ("reparent", &[("a.trug", "use book poultry\nanimal bird\nanimal laying-duck is bird\ningredient rice\n  selenium 3 mg/kg\n  dry-matter 88 %\nration a\n  for laying-duck\n  rice 100 %\n")]),
        ("parts of nothing", &[("a.trug", "animal duck\ningredient maize\ningredient rice\nration a\n  for duck\n  maize 100 %\n  rice 2 parts\n")]),
        ("two rests inherited", &[("a.trug", "animal duck\ningredient maize\ningredient rice\nration a\n  for duck\n  maize rest\n  rice rest\nration b like a\n")]),
        ("child of broken", &[("a.trug", "animal duck\ningredient maize\ningredient rice\nration a\n  for duck\n  maize 50 %\n  rice 60 %\nration b like a\n")]),
        ("child of unknown", &[("a.trug", "animal duck\ningredient maize\nration a\n  for duck\n  maize 50 %\n  rice 50 %\nration b like a\n")]),
        ("unknown and nested", &[("a.trug", "animal duck\ningredient maize\nration m\n  for mixing\n  mais 100 %\nration a\n  for duck\n  m 50 %\n  maize 50 %\n")]),
        ("unread line", &[("a.trug", "animal duck\ningredient maize\n  protein plenty\nration a\n  for duck\n  maize 60 %\n")]),
        ("missing use", &[("a.trug", "use \"b.trug\"\nration a\n  for duck\n  maize 60 %\n  rice 2 basket\n")]),
        ("use dup", &[("a.trug", "use \"b.trug\"\nuse \"c.trug\"\n"), ("b.trug", "animal duck\n"), ("c.trug", "animal duck\n")]),
        ("case", &[("a.trug", "animal duck\nanimal Duck\n")]),
        ("ration and ingredient one name", &[("a.trug", "animal duck\ningredient maize\nration maize\n  for duck\n  maize 100 %\n")]),
        ("no such lot", &[("a.trug", "animal duck\ningredient maize\nration a\n  for duck\n  maize 100 % lot X-1\n")]),
        ("negative amount", &[("a.trug", "animal duck\ningredient maize\ningredient rice\nration a\n  for duck\n  maize rest\n  rice -5 %\n")]),
        ("giving IU", &[("a.trug", "nutrient vitamin-a in IU\nanimal duck\ningredient maize\ningredient pre\n  vitamin-a 500000 IU/kg\nration a\n  for duck\n  maize rest\n  pre giving 8000 mg/kg vitamin-a\n")]),
        ("no giving content", &[("a.trug", "nutrient vitamin-a in IU\nanimal duck\ningredient maize\ningredient pre\nration a\n  for duck\n  maize rest\n  pre giving 8000 IU/kg vitamin-a\n")]),
        ("giving over", &[("a.trug", "nutrient lysine in share\nanimal duck\ningredient maize\ningredient pre\n  lysine 10 %\nration a\n  for duck\n  maize rest\n  pre giving 200 g/kg lysine\n")]),
        ("withdrawal dose over", &[("a.trug", "animal duck\n  gives eggs\ningredient maize\ningredient pre\n  dose 1 .. 2 kg/t\n  withdrawal 5 days for eggs\nration a\n  for duck\n  maize rest\n  pre 3 kg/t accept dose/over \"order 1\"\n")]),
        ("unknown unit in bound", &[("a.trug", "nutrient protein in share\nanimal duck\ntargets t for duck\n  protein at least 16 foo\n")]),
        ("accept on wrong line", &[("a.trug", "animal duck\ningredient maize\n  at most 50 %\ningredient rice\nration a\n  for duck\n  maize 60 %\n  rice 40 % accept limit/over \"x\"\n")]),
        ("accept item", &[("a.trug", "animal duck\ningredient maize\n  at most 50 %\ningredient rice\nration a\n  for duck\n  maize 60 %\n  rice 40 %\n  accept limit/over \"x\"\nration b like a\n")]),
        ("bases in expr", &[("a.trug", "nutrient protein in share\nnutrient fat in share\nanimal goat\ntargets t for goat\n  protein + fat 16 .. 18 % of dry-matter\ningredient hay\n  protein 8 %\n  fat 2 %\nration a\n  for goat\n  meets t\n  hay 100 %\n")]),
        ("record", &[("a.trug", "animal duck\ningredient maize\nration a\n  for duck\n  maize 100 %\nrecord R-1 of a\n  made 2026-11-21\n  batch 120 kg\n  weighed mais 120 kg\n  weighed maize 120 kg lot X-1\n")]),
        ("targets unread", &[("a.trug", "nutrient protein in share\nanimal duck\ntargets t for duck\n  protein plenty\ningredient maize\nration a\n  for duck\n  meets t\n  maize 100 %\n")]),
        ("lot twice", &[("a.trug", "ingredient maize\nlot X-1 of maize\nlot X-1 of maize\n")]),
        ("mass over batch", &[("a.trug", "animal duck\ningredient maize\ningredient rice\nration a\n  for duck\n  batch 100 kg\n  maize 60 kg\n  rice 50 kg\n")]),
        ("never with nested", &[("a.trug", "animal duck\ningredient maize\ningredient t\ningredient m\n  never with t\nration p\n  for mixing\n  t 10 %\n  maize 90 %\nration a\n  for duck\n  p 10 %\n  m 1 %\n  maize rest\n")]),
        ("rate", &[("a.trug", "rate 1 EUR = 325 EUR\nrate 1 kg = 3 EUR\n")]),
        ("scale", &[("a.trug", "scale s 5 g by 1 kg\nvessel v 0 of 30 L\nvessel w 2 of 30 kg\n")]),
        ("certainty", &[("a.trug", "animal duck\ningredient maize\nration a\n  for duck\n  certainty 100 %\n  maize 100 %\n")]),
        ("per day", &[("a.trug", "animal goat\ningredient hay\ningredient grass\nration a\n  for goat\n  hay 1 kg/day\n  grass rest\n")]),
        ("unit in book", &[("a.trug", "unit kg = 3 L\nunit kg2 = 3 EUR\nunit b = 0 kg\n")]),
        ("nutrient kind", &[("a.trug", "nutrient a in grams\nnutrient b in share\nnutrient c = b / b\n")]),
    ];
    for (what, texts) in cases {
        println!("== {what}");
        let names: Vec<String> = texts.iter().map(|(name, _)| (*name).to_owned()).collect();
        let held = InMemory::new(texts.iter().copied());
        let farm = Farm::read(&names, &held, Settings::default());
        for finding in farm.check() {
            let source = &farm.sources()[finding.place.file.index()];
            println!("   {}: {}[{}] `{}` {} ({}){}", source.name(), finding.severity.word(), finding.code.name, finding.place.span.of(source.text()).replace('\n', "\\n"), finding.message, finding.message.chars().count(), if finding.is_open() {""} else {" ACCEPTED"});
            for r in &finding.related { println!("        > {} `{}` {}", farm.sources()[r.place.file.index()].name(), r.place.span.of(farm.sources()[r.place.file.index()].text()), r.message); }
            if let Some(h) = &finding.help { println!("        help {h}"); }
            for f in &finding.fixes { println!("        fix {} {:?}", f.title, f.edits.iter().map(|e| e.text.clone()).collect::<Vec<_>>()); }
        }
    }
}

const DEEP: &str = "animal duck\ningredient maize\nration r70\n  for mixing\n  maize 100 %\nration r69\n  for mixing\n  r70 100 %\nration r68\n  for mixing\n  r69 100 %\nration r67\n  for mixing\n  r68 100 %\nration r66\n  for mixing\n  r67 100 %\nration r65\n  for mixing\n  r66 100 %\nration r64\n  for mixing\n  r65 100 %\nration r63\n  for mixing\n  r64 100 %\nration r62\n  for mixing\n  r63 100 %\nration r61\n  for mixing\n  r62 100 %\nration r60\n  for mixing\n  r61 100 %\nration r59\n  for mixing\n  r60 100 %\nration r58\n  for mixing\n  r59 100 %\nration r57\n  for mixing\n  r58 100 %\nration r56\n  for mixing\n  r57 100 %\nration r55\n  for mixing\n  r56 100 %\nration r54\n  for mixing\n  r55 100 %\nration r53\n  for mixing\n  r54 100 %\nration r52\n  for mixing\n  r53 100 %\nration r51\n  for mixing\n  r52 100 %\nration r50\n  for mixing\n  r51 100 %\nration r49\n  for mixing\n  r50 100 %\nration r48\n  for mixing\n  r49 100 %\nration r47\n  for mixing\n  r48 100 %\nration r46\n  for mixing\n  r47 100 %\nration r45\n  for mixing\n  r46 100 %\nration r44\n  for mixing\n  r45 100 %\nration r43\n  for mixing\n  r44 100 %\nration r42\n  for mixing\n  r43 100 %\nration r41\n  for mixing\n  r42 100 %\nration r40\n  for mixing\n  r41 100 %\nration r39\n  for mixing\n  r40 100 %\nration r38\n  for mixing\n  r39 100 %\nration r37\n  for mixing\n  r38 100 %\nration r36\n  for mixing\n  r37 100 %\nration r35\n  for mixing\n  r36 100 %\nration r34\n  for mixing\n  r35 100 %\nration r33\n  for mixing\n  r34 100 %\nration r32\n  for mixing\n  r33 100 %\nration r31\n  for mixing\n  r32 100 %\nration r30\n  for mixing\n  r31 100 %\nration r29\n  for mixing\n  r30 100 %\nration r28\n  for mixing\n  r29 100 %\nration r27\n  for mixing\n  r28 100 %\nration r26\n  for mixing\n  r27 100 %\nration r25\n  for mixing\n  r26 100 %\nration r24\n  for mixing\n  r25 100 %\nration r23\n  for mixing\n  r24 100 %\nration r22\n  for mixing\n  r23 100 %\nration r21\n  for mixing\n  r22 100 %\nration r20\n  for mixing\n  r21 100 %\nration r19\n  for mixing\n  r20 100 %\nration r18\n  for mixing\n  r19 100 %\nration r17\n  for mixing\n  r18 100 %\nration r16\n  for mixing\n  r17 100 %\nration r15\n  for mixing\n  r16 100 %\nration r14\n  for mixing\n  r15 100 %\nration r13\n  for mixing\n  r14 100 %\nration r12\n  for mixing\n  r13 100 %\nration r11\n  for mixing\n  r12 100 %\nration r10\n  for mixing\n  r11 100 %\nration r9\n  for mixing\n  r10 100 %\nration r8\n  for mixing\n  r9 100 %\nration r7\n  for mixing\n  r8 100 %\nration r6\n  for mixing\n  r7 100 %\nration r5\n  for mixing\n  r6 100 %\nration r4\n  for mixing\n  r5 100 %\nration r3\n  for mixing\n  r4 100 %\nration r2\n  for mixing\n  r3 100 %\nration r1\n  for mixing\n  r2 100 %\nration top\n  for duck\n  r1 100 %\n";
