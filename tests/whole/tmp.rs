//! x
#[test]
fn dump() {
    let v = std::env::var("DUMP").unwrap();
    let (path, name) = v.split_once(':').unwrap();
    let files: Vec<(String, String)> = trug_tests::repository::files("examples", ".trug")
        .into_iter()
        .map(|p| (p.clone(), trug_tests::repository::read(&p)))
        .collect();
    let texts: Vec<_> = files
        .iter()
        .map(|(a, b)| (a.as_str(), b.as_str()))
        .collect();
    let a = trug_tests::answer::plan_in(&texts, path, name, None);
    println!("{}", a.text.unwrap_or_default());
    for x in a.findings {
        println!("{} {}", x.code.name, x.message);
    }
}
