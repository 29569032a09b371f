//! The rows the books were made from, and what each of them should have become.
//!
//! The tables: picks, requirements and bounds whole; of the ingredients the kinds that the books take (bulk densities,
//! greatest inclusions, authorised doses, pure substances, energy for poultry by two sources). Beside them, the names
//! that no rule makes: whose row an item is (`names.csv`, `animals.csv`), rows of no common form (`irregular.csv`), and
//! how a source is cited (`citations.csv`).

use std::collections::BTreeMap;

use trug_model::Q;

use crate::said::Said;

/// A row, by its headings.
pub(crate) type Row = BTreeMap<String, String>;

/// One row of the data, and what the books say for it; none where it is left out.
pub(crate) struct Told {
    pub(crate) file: &'static str,
    pub(crate) row: String,
    pub(crate) says: Vec<Said>,
}

/// A table of the data.
pub(crate) fn table(name: &str) -> Vec<Row> {
    let text = match name {
        "picks" => include_str!("picks.csv"),
        "requirements" => include_str!("requirements.csv"),
        "bounds" => include_str!("bounds.csv"),
        "ingredients" => include_str!("ingredients.csv"),
        "sources" => include_str!("sources.csv"),
        "citations" => include_str!("citations.csv"),
        "names" => include_str!("names.csv"),
        "animals" => include_str!("animals.csv"),
        "irregular" => include_str!("irregular.csv"),
        "sets" => include_str!("sets.csv"),
        "left-out" => include_str!("left-out.csv"),
        _ => panic!("no table {name}"),
    };
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.deserialize().map(Result::unwrap).collect()
}

/// What the books call a nutrient of the data.
pub(crate) fn nutrient(data: &str) -> String {
    let name = match data {
        "crude_protein" | "crude_protein(Nx6.25)" | "crude_protein(adequate in trials)" => {
            "protein"
        }
        "crude_fat" => "fat",
        "crude_fibre" => "fibre",
        "total_sugars" => "sugars",
        "phosphorus_total" => "phosphorus",
        // Non-phytate phosphorus stands for the available one of poultry, as in the tables of 1994.
        "phosphorus_nonphytate" | "phosphorus_available" => "available-phosphorus",
        "chlorine" => "chloride",
        "sulfur" => "sulphur",
        "met+cys" => "met-cys",
        "gly+ser" => "gly-ser",
        "phe+tyr" => "phe-tyr",
        "choline_cation" => "choline",
        "aflatoxin_total" => "aflatoxin",
        "me" => "ame",
        "lysine_intake" => "lysine",
        "ratio_ca_to_total_p" => "calcium / phosphorus",
        "ratio_ca_to_digestible_p" => "calcium / phosphorus-digestible",
        other => return slug(other.strip_suffix("_total").unwrap_or(other)),
    };
    name.to_owned()
}

/// A name as the books write it: small letters and digits, joined by hyphens.
pub(crate) fn slug(text: &str) -> String {
    let lower = text.to_lowercase();
    let words = lower.split(|letter: char| !letter.is_ascii_alphanumeric());
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    words.join("-")
}

/// The data and how it goes together with the books.
pub(crate) struct Data {
    citations: BTreeMap<String, String>,
    names: Vec<Row>,
    animals: Vec<Row>,
    irregular: Vec<Row>,
    sets: BTreeMap<String, String>,
    left_out: BTreeMap<(String, String), String>,
}

impl Data {
    pub(crate) fn read() -> Data {
        let pairs = |name: &str, key: &str, value: &str| {
            let rows = table(name).into_iter();
            rows.map(|row| (row[key].clone(), row[value].clone()))
                .collect()
        };
        let left_out = table("left-out").into_iter();
        Data {
            citations: pairs("citations", "source_id", "citation"),
            names: table("names"),
            animals: table("animals"),
            irregular: table("irregular"),
            sets: pairs("sets", "source_id", "tag"),
            left_out: left_out
                .map(|row| {
                    (
                        (row["file"].clone(), row["row"].clone()),
                        row["reason"].clone(),
                    )
                })
                .collect(),
        }
    }

    /// Every row of the data.
    pub(crate) fn told(&self) -> Vec<Told> {
        let mut told = Vec::new();
        for file in ["picks", "ingredients", "requirements", "bounds"] {
            for row in table(file) {
                let key = key(file, &row);
                let is_left_out = self.reason(file, &key).is_some();
                let says = if is_left_out {
                    Vec::new()
                } else {
                    self.says(file, &key, &row)
                };
                told.push(Told {
                    file,
                    row: key,
                    says,
                });
            }
        }
        told
    }

    /// Why a row is left out.
    pub(crate) fn reason(&self, file: &str, key: &str) -> Option<&str> {
        let reason = self.left_out.get(&(file.to_owned(), key.to_owned()));
        reason.map(String::as_str)
    }

    /// The rows that are left out: their table and their key.
    pub(crate) fn left_out(&self) -> impl Iterator<Item = &(String, String)> {
        self.left_out.keys()
    }

    fn says(&self, file: &str, key: &str, row: &Row) -> Vec<Said> {
        let source = self.cite(row);
        let said = |says: String| Said {
            says,
            source: source.clone(),
        };
        match file {
            "picks" => vec![self.pick(row)],
            "ingredients" => self.ingredient(row).into_iter().map(said).collect(),
            "requirements" => vec![said(self.requirement(row))],
            _ => self.bound(key, row).into_iter().map(said).collect(),
        }
    }

    /// How a row's source is cited.
    fn cite(&self, row: &Row) -> String {
        let Some(citation) = self.citations.get(&row["source_id"]) else {
            panic!("{} is not cited", row["source_id"]);
        };
        let food = row
            .get("note")
            .is_some_and(|note| note.contains("food-grade"));
        let food = if food { ", food-grade record" } else { "" };
        let computed = if row["verified"] == "computed" {
            "computed from "
        } else {
            ""
        };
        format!("{computed}{citation}{food}")
    }

    fn pick(&self, row: &Row) -> Said {
        let item = slug(&row["ingredient"]);
        let (value, unit) = (&row["value"], &row["unit"]);
        if row["nutrient"] == "met+cys" {
            // Where cystine is not given: what methionine leaves of the two.
            let of =
                |it: &Row| it["ingredient"] == row["ingredient"] && it["nutrient"] == "methionine";
            let methionine = table("picks").into_iter().find(of).unwrap();
            let cystine = Q::decimal(value).unwrap() - Q::decimal(&methionine["value"]).unwrap();
            let source = format!("computed from met+cys less methionine, {}", self.cite(row));
            let says = format!("{item} cystine {} {unit}", cystine.rounded(2));
            return Said { says, source };
        }
        let name = match row["nutrient"].as_str() {
            "me_poultry" => scale(&row["source_id"]).to_owned(),
            other => nutrient(other),
        };
        Said {
            says: format!("{item} {name} {value} {unit}"),
            source: self.cite(row),
        }
    }

    fn ingredient(&self, row: &Row) -> Vec<String> {
        let (what, value, unit) = (&row["nutrient"], &row["value"], &row["unit"]);
        let lower = leading(value);
        if what == "bulk_density" {
            // Tonnes in a cubic metre are kilograms in a litre; of a range the lower end fills more tubs.
            let unit = if unit == "t/m3" { "kg/L" } else { unit };
            let items = self.items("density", &row["ingredient"]).into_iter();
            return items
                .map(|item| format!("{item} bulk-density {lower} {unit}"))
                .collect();
        }
        if let Some(animal) = what.strip_prefix("max_inclusion:") {
            let items = self.items("limit", &row["ingredient"]);
            let animal = self.animals("limit", animal, "").concat();
            return vec![format!("{} at most {lower} % for {animal}", items[0])];
        }
        if let Some(animals) = what.strip_prefix("authorised_dose:") {
            let item = self.items("dose", &row["ingredient"]).concat();
            let range = value.replace('-', " .. ");
            let animals = self.animals("dose", animals, "").into_iter();
            return animals
                .map(|animal| format!("{item} dose {range} {unit} for {animal}"))
                .collect();
        }
        if what == "me_poultry" {
            let item = self.items("energy", &row["ingredient"]).concat();
            return vec![format!(
                "{item} {} {value} {unit}",
                scale(&row["source_id"])
            )];
        }
        let pure = row["ingredient"].split('(').next().unwrap_or_default();
        vec![format!("{} {} {value} {unit}", slug(pure), nutrient(what))]
    }

    fn requirement(&self, row: &Row) -> String {
        let (what, source) = (&row["nutrient"], &row["source_id"]);
        let stage = row["stage"].replace("IS 1374 ", "");
        let per_day = if what == "lysine_intake" {
            " per day"
        } else {
            ""
        };
        let set = slug(&format!(
            "{} {stage}{per_day} {}",
            row["animal"], self.sets[source]
        ));
        let animal = self
            .animals("targets", &row["animal"], &row["stage"])
            .concat();
        let unit = match row["unit"].as_str() {
            "g/MJ ME" => " g/MJ".to_owned(),
            "kcal AMEn/kg" => " kcal/kg".to_owned(),
            "MJ AME/kg" => " MJ/kg".to_owned(),
            "g/hen/day" => " g/day".to_owned(),
            "ratio" => String::new(),
            unit => format!(" {unit}"),
        };
        let over = if row["unit"] == "g/MJ ME" {
            " / ame"
        } else {
            ""
        };
        let name = format!("{}{over}", nutrient(what));
        let ends = match (row["min"].as_str(), row["max"].as_str()) {
            (low, "") => format!("at least {low}"),
            ("", high) => format!("at most {high}"),
            (low, high) => format!("{low} .. {high}"),
        };
        let dry = row["basis"].starts_with("DM") || row["basis"].starts_with("dry diet");
        let basis = if dry { " of dry-matter" } else { "" };
        format!("{set} for {animal} {name} {ends}{unit}{basis}")
    }

    fn bound(&self, key: &str, row: &Row) -> Vec<String> {
        let irregular = self.irregular.iter().filter(|it| it["row"] == key);
        let irregular: Vec<String> = irregular.map(|it| it["says"].clone()).collect();
        if !irregular.is_empty() {
            return irregular;
        }
        let (what, most, kind) = (
            &row["nutrient_or_ingredient"],
            leading(&row["max"]),
            &row["kind"],
        );
        let basis = match row["basis"].as_str() {
            "DM" => " of dry-matter",
            it if it.starts_with("as fed") => " as fed",
            // 12 % moisture is what such a bound counts at where it does not say.
            _ => "",
        };
        let stage = format!("{what} {}", row["source_id"]);
        let animals = self.animals("bound", &row["animal"], &stage).into_iter();
        let name = nutrient(what);
        let unit = row["unit"].trim();
        animals
            .map(|animal| format!("{animal} {name} at most {most} {unit}{basis} {kind}"))
            .collect()
    }

    /// The items that a row of an ingredient is said in.
    fn items(&self, of: &str, ingredient: &str) -> Vec<String> {
        let found = self.names.iter();
        let mut found = found.filter(|row| row["of"] == of && row["ingredient"] == ingredient);
        let items = found.next().map(|row| row["items"].clone());
        let items = items.unwrap_or_else(|| slug(ingredient));
        items.split(' ').map(str::to_owned).collect()
    }

    /// The animals that a row is said for.
    fn animals(&self, of: &str, animal: &str, stage: &str) -> Vec<String> {
        let found = self.animals.iter().find(|row| {
            row["of"] == of
                && row["animal"] == animal
                && row["stage or nutrient and source"] == stage
        });
        let Some(found) = found else {
            panic!("animals.csv has no {of}, {animal}, {stage}");
        };
        found["animals"].split(' ').map(str::to_owned).collect()
    }
}

/// What a row is called in `left-out.csv` and `irregular.csv`.
fn key(file: &str, row: &Row) -> String {
    let parts: &[&str] = match file {
        "picks" => &["ingredient", "nutrient"],
        "ingredients" => &["ingredient", "nutrient", "value", "source_id"],
        "requirements" => &["animal", "stage", "nutrient", "source_id"],
        _ => &[
            "animal",
            "nutrient_or_ingredient",
            "kind",
            "max",
            "source_id",
        ],
    };
    let parts: Vec<&str> = parts.iter().map(|part| row[*part].as_str()).collect();
    parts.join("|")
}

/// The number a cell begins with: of a range the lower end.
fn leading(value: &str) -> &str {
    let end = value.find(|letter: char| !letter.is_ascii_digit() && letter != '.');
    &value[..end.unwrap_or(value.len())]
}

/// Which of the two scales of poultry energy a source is on.
fn scale(source: &str) -> &'static str {
    match source {
        "NIAS-table" | "UKY-ricebran" | "ADR7010-millet" => "ame",
        "EQ-EU-poultry" => "ame-eu",
        it if it.starts_with("DLG/LfL-") => "ame-eu",
        other => panic!("the scale of {other} is not said"),
    }
}
