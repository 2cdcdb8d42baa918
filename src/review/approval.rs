//! What the approval of a deviation says: it must name something that somebody can look up, and not say that it is none.
//!
//! Called where deviations are matched with findings. Words are weighed, no sentences: what is refused wrongly is told with
//! how to write it, what is taken wrongly still stands in the report as the submittal's claim.

use crate::quantity::read_date;

/// Words that say that something is refused, was only said, or is still to come, whatever stands beside them.
const DENIALS: [&str; 22] = [
    "be",
    "call",
    "cannot",
    "deny",
    "follow",
    "hold",
    "if",
    "isn",
    "never",
    "none",
    "not",
    "once",
    "oral",
    "phone",
    "sent",
    "tbd",
    "telephone",
    "unless",
    "until",
    "verbal",
    "verbally",
    "void",
];
/// Beginnings of such words.
const DENIAL_STEMS: [&str; 17] = [
    "await", "cancel", "declin", "deni", "disagree", "disappr", "expired", "object", "pend", "refus", "reject",
    "resubmi", "revok", "unanswer", "unapprov", "unsigned", "withdr",
];
/// Words that say that something is not decided, unless another word says that it is.
const OPEN: [&str; 3] = ["applied", "open", "under"];
/// Beginnings of such words.
const OPEN_STEMS: [&str; 12] = [
    "answered",
    "draft",
    "expect",
    "outstanding",
    "propos",
    "request",
    "respon",
    "return",
    "review",
    "revise",
    "submitted",
    "unresolved",
];
/// Words that say that something is decided.
const GRANTED: [&str; 7] = ["accepted", "accepts", "approved", "approves", "executed", "granted", "grants"];
/// Words of consent that begin with a `no`, the longer ones first.
const CONSENT: [&str; 4] = ["no exceptions", "no exception", "no objections", "no objection"];

/// Words for something that an approval is written in.
const DOCUMENTS: [&str; 31] = [
    "addendum",
    "approval",
    "approved",
    "asi",
    "bulletin",
    "ccd",
    "certificate",
    "co",
    "cor",
    "decision",
    "determination",
    "directive",
    "document",
    "email",
    "instruction",
    "letter",
    "mail",
    "memo",
    "memorandum",
    "minutes",
    "notice",
    "pco",
    "permit",
    "ref",
    "reference",
    "resolution",
    "rfi",
    "submittal",
    "transmittal",
    "variance",
    "waiver",
];

/// Why a text is no approval: it says that there is none yet, or names no letter that somebody could look up.
pub(super) fn no_approval(text: &str) -> Option<&'static str> {
    // Names of documents hold words of another meaning.
    let text = text.to_lowercase();
    let text = text.replace("request for information", "rfi").replace("change order", "co");
    let text = CONSENT.iter().fold(text, |text, consent| text.replace(consent, "granted"));
    let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let has_number = |word: &str| word.contains(|c: char| c.is_ascii_digit());
    let is_document = |word: &str| DOCUMENTS.contains(&word.trim_end_matches(|c: char| c.is_ascii_digit()));
    let begins = |word: &str, stems: &[&str]| stems.iter().any(|stem| word.starts_with(stem));
    // `no` is a number in "co no. 12" and "approval no. FM-88".
    let is_number_sign =
        |at: usize| at > 0 && is_document(words[at - 1]) && words[at + 1..].iter().take(2).any(|word| has_number(word));
    let denies = |(at, word): (usize, &&str)| {
        let refuses = DENIALS.contains(word) || begins(word, &DENIAL_STEMS);
        refuses || (*word == "no" && !is_number_sign(at))
    };
    let granted = words.iter().any(|word| GRANTED.contains(word));
    let is_open = !granted && words.iter().any(|word| OPEN.contains(word) || begins(word, &OPEN_STEMS));
    if is_open || words.iter().enumerate().any(denies) {
        Some("its approval says that it is not approved, or not yet")
    } else if !words.iter().any(|word| has_number(word))
        || !(words.iter().any(|word| is_document(word)) || has_date(&text))
    {
        Some("its approval names no letter, RFI or change order by number or date")
    } else {
        None
    }
}

/// Whether a date stands in a text, as `2026-09-02` or with a year of four digits.
fn has_date(text: &str) -> bool {
    let is_year =
        |word: &str| word.len() == 4 && word.starts_with("20") && word.bytes().all(|byte| byte.is_ascii_digit());
    text.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | '(' | ')' | '/'))
        .map(|word| word.trim_end_matches('.'))
        .any(|word| is_year(word) || (word.len() == "2026-09-02".len() && read_date(word).is_ok()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_approval_names_something_to_look_up() {
        for approval in [
            "RFI 14",
            "RFI-014",
            "RFI14",
            "letter of 2026-09-02",
            "CO 3",
            "change order no. 12",
            "fire marshal, 2026-09-02",
            "owner's e-mail (2026-09-02)",
            "approved by the city, permit B-1034",
            "notice 4: opening reduced",
            "Request for Information 14",
            "Submittal 12 returned 2026-09-02, no exceptions taken",
            "letter of no objection, 2026-09-02",
            "approved as submitted, RFI 14",
            "approved under permit B-1034",
            "RFI 14, response of 2026-09-02: accepted",
            "substitution request 3 approved",
            "Change order 3 (proposal accepted)",
            "CO 3, executed and revised 2026-09-02",
            "Approval no. FM-88",
            "CCD 7",
            "PCO 14 executed",
            "fire marshal, Sept 2, 2026",
            "letter 12, no objections",
            "RFI 14, no exception taken",
            "fire marshal, 2026-09-02.",
            "approved by the fire marshal in September 2026.",
        ] {
            assert_eq!(no_approval(approval), None, "{approval}");
        }
        for text in [
            "-",
            "owner",
            "verbal",
            "yes",
            "none",
            "denied",
            "not approved, RFI 14",
            "requested 2026-09-02",
            "no",
            "1",
            "RFI 8 returned revise and resubmit",
            "fire marshal disapproves, letter 12",
            "RFI 8, under review",
            "RFI 8 open",
            "RFI 8 submitted 2026-05-01",
            "RFI 8 answered: no",
            "RFI 12 - no response yet",
            "RFI 8 expected 2026-07-01",
            "phone call 2026-05-01",
            "see sheet A-3",
            "3 in mesh",
            "2 weeks after award",
            "RFI 8 answered: no, 2026-05-01",
            "RFI 14 unanswered",
            "sent 2026-05-01",
            "RFI 3 in review",
            "RFI 3 on hold",
            "TBD 2026",
            "RFI 3 void",
            "RFI 3 unapproved",
            "RFI 3 to be answered",
            "RFI 3 cannot be granted",
            "RFI 3 isn't approved",
            "CO 3 unsigned",
            "letter 12: fire marshal objects",
            "permit 14 revoked",
            "permit applied for 2026-05-01",
            "change order 12 to follow",
            "RFI 9: never approved",
            "change 3 in",
            "order 2 wheels",
            "approval requested 2026-09-02",
            "approval pending, RFI 14",
            "awaiting approval, RFI 14",
            "to be approved, RFI 14",
            "approved once RFI 14 is answered",
            "RFI 14, approval expected",
            "letter 12: an objection was raised",
            "letter 12, objections remain",
            "pending RFI 9",
        ] {
            assert!(no_approval(text).is_some(), "{text}");
        }
    }
}
