//! Makes the packs that the binary carries.
//!
//! Each pack of rules/ is embedded twice: as it stands, for `prove` and `explain`, and without its cases, which a
//! review never needs and which are two thirds of its text. Start-up reads the short form.

use std::fmt::Write as _;
use std::path::Path;
use std::{env, fs, io};

use serde_yaml::Value;

fn main() -> io::Result<()> {
    println!("cargo:rerun-if-changed=rules");
    let root = env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?;
    let out = env::var("OUT_DIR").map_err(io::Error::other)?;
    let mut paths: Vec<_> = fs::read_dir(Path::new(&root).join("rules"))?
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|extension| extension == "yaml"))
        .collect();
    paths.sort();
    let mut table = String::from("/// Name, text without cases, whole text.\npub const SHIPPED: &[(&str, &str, &str)] = &[\n");
    for path in paths {
        let name = path.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default().to_owned();
        let whole = fs::read_to_string(&path)?;
        let short = Path::new(&out).join(format!("{name}.yaml"));
        fs::write(&short, without_cases(&whole).map_err(|error| io::Error::other(format!("{name}: {error}")))?)?;
        writeln!(table, "    ({name:?}, include_str!({short:?}), include_str!({path:?})),").map_err(io::Error::other)?;
    }
    table.push_str("];\n");
    fs::write(Path::new(&out).join("shipped.rs"), table)
}

fn without_cases(pack: &str) -> Result<String, serde_yaml::Error> {
    let mut pack: Value = serde_yaml::from_str(pack)?;
    if let Some(top) = pack.as_mapping_mut() {
        top.remove("given");
        if let Some(rules) = top.get_mut("rules").and_then(Value::as_sequence_mut) {
            for rule in rules.iter_mut().filter_map(Value::as_mapping_mut) {
                rule.remove("cases");
                rule.remove("given");
            }
        }
    }
    serde_yaml::to_string(&pack)
}
