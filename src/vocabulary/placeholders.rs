//! Words that a text may be whatever their case and blanks: those that stand for a value not yet decided, and `n/a`.
//!
//! The reader of submittals holds every value against some fifty of them, so most texts are told apart by their first
//! and last letters.

/// Some words and phrases.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Placeholders {
    /// In lower case, each with its ends.
    words: Vec<(u8, String)>,
    /// A bit for the ends of each.
    ends: u128,
    /// What other texts may begin with.
    beginnings: Vec<String>,
    /// Whether a text without a letter or digit is one of them.
    blank: bool,
}

impl Placeholders {
    /// Of some words, in any case. A phrase that ends with ` *` stands for itself and every text that begins with it; an
    /// empty one for a text without a letter or digit.
    pub fn new<'w>(words: impl IntoIterator<Item = &'w str>) -> Placeholders {
        let mut found = Placeholders::default();
        for word in words {
            let word = word.to_lowercase();
            if let Some(beginning) = word.strip_suffix(" *") {
                found.beginnings.push(beginning.to_owned());
            } else if let Some(ends) = ends(&word) {
                found.ends |= 1 << ends;
                found.words.push((ends, word));
            } else {
                found.blank = true;
            }
        }
        found
    }

    /// Whether a text is one of them.
    pub fn contain(&self, text: &str) -> bool {
        if self.beginnings.iter().any(|phrase| begins_with(phrase, text)) {
            return true;
        }
        if self.blank && !text.chars().any(char::is_alphanumeric) {
            return true;
        }
        let text = bare(text);
        let Some(ends) = ends(text).filter(|ends| self.ends & (1 << ends) != 0) else { return false };
        self.words.iter().any(|(of_word, word)| *of_word == ends && same_words(word, text))
    }
}

/// Whether a text says that something does not apply.
pub fn is_not_applicable(text: &str) -> bool {
    ends(text) == ends("n/a") && same_words("n/a", text)
}

/// A number below 128 for the first and last letters of a text, which other letters may share; none where there is no
/// letter.
fn ends(text: &str) -> Option<u8> {
    let is_graphic = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_graphic);
    let bytes = text.as_bytes();
    let bytes = if is_graphic(bytes.first()) && is_graphic(bytes.last()) { bytes } else { text.trim().as_bytes() };
    let (first, last) = bytes.first().zip(bytes.last())?;
    Some(first.to_ascii_lowercase().wrapping_mul(37).wrapping_add(last.to_ascii_lowercase()) % 128)
}

/// Whether a text is a word or phrase, whatever its case and blanks.
fn same_words(phrase: &str, text: &str) -> bool {
    // Most texts are told apart by their length.
    if text.len() < phrase.len() {
        return false;
    }
    if !phrase.as_bytes().contains(&b' ') {
        return text.trim().eq_ignore_ascii_case(phrase);
    }
    let mut found = text.split_whitespace();
    phrase.split(' ').all(|word| found.next().is_some_and(|next| next.eq_ignore_ascii_case(word)))
        && found.next().is_none()
}

/// A text without the marks around it: `(TBD)` and `No.` are TBD and no. A text of marks alone stays.
fn bare(text: &str) -> &str {
    let ends_in_letters = |byte: Option<&u8>| byte.is_some_and(|byte| byte.is_ascii_alphanumeric() || !byte.is_ascii());
    let bytes = text.as_bytes();
    if ends_in_letters(bytes.first()) && ends_in_letters(bytes.last()) {
        return text;
    }
    let bare = text.trim_matches(|c: char| !c.is_alphanumeric());
    if bare.is_empty() { text } else { bare }
}

/// Whether a text begins with the words of a phrase, whatever its case, and whatever stands between them.
fn begins_with(phrase: &str, text: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
        words.map(str::to_lowercase).collect()
    };
    words(text).starts_with(&words(phrase))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_found_whatever_their_case_and_blanks_and_nothing_else_is() {
        let words = Placeholders::new(["TBD", "to be determined", "-", "à décider"]);
        for text in
            ["tbd", " TBD ", "To  be\tdetermined", "-", "à décider", "TBD.", "(tbd)", "tbd?", "To be determined!"]
        {
            assert!(words.contain(text), "{text}");
        }
        for text in ["", " ", "tb", "to be", "to be determined later", "--", "12 ft", "décider"] {
            assert!(!words.contain(text), "{text}");
        }
        assert!(!Placeholders::default().contain("tbd"));
        assert!(!Placeholders::default().contain(""));
        assert!(is_not_applicable("N/A ") && !is_not_applicable("na") && !is_not_applicable(""));
    }

    #[test]
    fn beginnings_and_blanks_are_found_where_they_are_named() {
        let words = Placeholders::new(["no means *", "none", ""]);
        for text in
            ["no means", "No  means of protection", "no means, yet", "no-means", "", "  ", "none", "None.", "—", "..."]
        {
            assert!(words.contain(text), "{text:?}");
        }
        for text in ["no", "no meansx", "none of it is in reach", "fenced, no means needed"] {
            assert!(!words.contain(text), "{text:?}");
        }
    }
}
