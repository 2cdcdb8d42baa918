//! The README and the guide: every command shown there is run, every line of output shown must come, in that order;
//! `...` stands for any lines.

use std::fs;
use std::path::Path;
use std::process::Command;

fn read(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap().replace("\r\n", "\n")
}

/// The blocks of a language in a Markdown text.
fn blocks<'t>(text: &'t str, language: &str) -> Vec<&'t str> {
    text.split(&format!("```{language}\n")).skip(1).map(|rest| rest.split("\n```").next().unwrap()).collect()
}

/// Runs a command line as a shell would, with `gatewright` on the path.
fn shell(command: &str) -> String {
    let program = Path::new(env!("CARGO_BIN_EXE_gatewright"));
    let path = format!("{}:{}", program.parent().unwrap().display(), std::env::var("PATH").unwrap());
    let output = Command::new("sh")
        .args(["-c", command])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("PATH", path)
        .env_remove("COLUMNS")
        .env_remove("NO_COLOR")
        .output()
        .unwrap();
    String::from_utf8(output.stdout).unwrap()
}

#[cfg(unix)]
#[test]
fn commands_and_output_of_the_readme_are_real() {
    let readme = read("README.md");
    let shown = blocks(&readme, "console");
    assert!(shown.len() >= 4);
    for block in shown {
        let (command, expected) = block.split_once('\n').unwrap();
        let command = command.strip_prefix("$ ").expect("a block begins with its command");
        let found = shell(command);
        let found: Vec<&str> = found.lines().collect();
        let mut at = 0;
        let mut free = false;
        for line in expected.lines() {
            if line == "..." {
                free = true;
                continue;
            }
            let next = found[at..].iter().position(|found| *found == line);
            match next {
                Some(skipped) if free || skipped == 0 => at += skipped + 1,
                other => panic!("{command}\n  shown: {line}\n  found {other:?} lines on: {:?}", found.get(at)),
            }
            free = false;
        }
        assert!(free || at == found.len(), "{command} prints more than is shown: {:?}", found.get(at));
    }
}

#[test]
fn the_two_commands_at_the_top_and_the_exit_codes_are_the_programs_own() {
    let readme = read("README.md");
    let commands = blocks(&readme, "sh")[0];
    assert!(commands.contains("cargo run --release -- review examples") && commands.contains("cargo test"));
    let ci = read(".ci/run");
    assert!(ci.contains("-- review examples") && ci.contains("cargo test"));
    for code in 0..=5 {
        assert!(readme.contains(&format!("\n| {code} | ")), "exit code {code} is explained");
    }
}

#[test]
fn yaml_shown_in_the_readme_and_the_guide_can_be_read() {
    use gatewright::document::{Limits, parse};
    use gatewright::source::SourceFile;
    for name in ["README.md", "rules/GUIDE.md"] {
        for block in blocks(&read(name), "yaml") {
            let parsed = parse(std::sync::Arc::new(SourceFile::new(name, block)), &Limits::default());
            assert!(parsed.problems.is_empty(), "{name}: {block}\n{:?}", parsed.problems);
        }
    }
}

#[test]
fn the_pack_of_the_guide_is_proved() {
    let folder = tempfile::tempdir().unwrap();
    let guide = read("rules/GUIDE.md");
    fs::write(folder.path().join("city.yaml"), blocks(&guide, "yaml")[0]).unwrap();
    let done = super::program::run(&["prove", "--packs", folder.path().to_str().unwrap(), "city"]);
    assert_eq!((done.code, done.out.as_str()), (0, "city: 1 rule, 4 of 4 cases as expected\n"), "{}", done.err);
}

#[test]
fn the_grammar_of_the_guide_is_that_of_the_parser_word_for_word() {
    let parser = read("src/expr/parse.rs");
    let head: String = parser
        .lines()
        .take_while(|line| line.starts_with("//!"))
        .map(|line| line.strip_prefix("//! ").or(line.strip_prefix("//!")).unwrap_or(line).to_owned() + "\n")
        .collect();
    let in_parser = blocks(&head, "text")[0];
    let guide = read("rules/GUIDE.md");
    assert_eq!(blocks(&guide, "text")[0], in_parser);
}
