//! Compiles the generated parser and the scanner beside it.

fn main() {
    let files = ["src/parser.c", "src/scanner.c"];
    cc::Build::new()
        .std("c11")
        .include("src")
        .flag_if_supported("-Wno-unused")
        .files(files)
        .compile("tree-sitter-trug");
    for file in files {
        println!("cargo:rerun-if-changed={file}");
    }
}
