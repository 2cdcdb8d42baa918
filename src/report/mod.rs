//! stub
use crate::review::Run;
/// x
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Format {
    /// x
    Terminal,
    /// x
    Line,
    /// x
    Json,
}
impl Format {
    /// x
    pub const ALL: [Format; 3] = [Format::Terminal, Format::Line, Format::Json];
    /// x
    pub fn word(self) -> &'static str {
        match self {
            Format::Terminal => "terminal",
            Format::Line => "line",
            Format::Json => "json",
        }
    }
    /// x
    pub fn from_word(word: &str) -> Option<Self> {
        Format::ALL.into_iter().find(|format| format.word() == word)
    }
}
/// x
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Options {
    /// x
    pub width: usize,
    /// x
    pub ascii: bool,
    /// x
    pub color: bool,
}
/// x
pub fn write(run: &Run, _format: Format, _options: &Options) -> String {
    let mut out = String::new();
    for s in &run.submittals {
        for f in &s.findings {
            let p = s.file.position(f.primary.span.start);
            out.push_str(&format!(
                "{}:{}:{}: {} [{}] {} {:?} missing {:?}\n",
                s.file.name(),
                p.line,
                p.column,
                f.weight.word(),
                f.rule,
                f.message,
                f.gate,
                f.missing
            ));
        }
        out.push_str(&format!("{} questions, action {:?}\n", s.questions.len(), s.action));
    }
    out
}
mod rules;
pub use rules::{rule_text, rules_json, rules_text, source_line};
mod words {
    pub fn source(facts: &crate::review::RuleFacts) -> String {
        facts.standard.clone()
    }
}
mod text {
    pub fn wrap(t: &str, _w: usize) -> Vec<String> {
        vec![t.to_owned()]
    }
}
/// x
pub fn problems_report(
    problems: &[(std::sync::Arc<crate::source::SourceFile>, crate::problem::Problem)],
    _o: &Options,
) -> String {
    let mut out = String::new();
    for (f, p) in problems {
        let at = f.position(p.span.start);
        out.push_str(&format!(
            "{}:{}:{}: {} {} {:?} `{}`\n",
            f.name(),
            at.line,
            at.column,
            p.code,
            p.message,
            p.help,
            f.slice(p.span)
        ));
    }
    out
}
