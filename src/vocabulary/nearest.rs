//! The name that a misspelt one was probably meant to be.
//!
//! Used for keys, choices, rule names and paths. Says nothing where nothing is near: a wrong hint is worse than none.

/// The nearest of the known names: close spelling first, then the same letters in another case, then the same parts in
/// another order (`gap_bottom` for `bottom_gap`).
pub fn nearest_name<'n>(found: &str, known: impl Iterator<Item = &'n str> + Clone) -> Option<&'n str> {
    const CLOSE: f64 = 0.8;
    let best = |score: &dyn Fn(&str) -> f64| {
        known
            .clone()
            .map(|name| (score(name), name))
            .filter(|(score, _)| *score > CLOSE)
            .max_by(|(a, _), (b, _)| a.total_cmp(b))
            .map(|(_, name)| name)
    };
    let lower = found.to_lowercase();
    let sorted = sorted_parts(&lower);
    best(&|name| strsim::jaro_winkler(found, name))
        .or_else(|| best(&|name| strsim::jaro_winkler(&lower, &name.to_lowercase())))
        .or_else(|| best(&|name| strsim::jaro_winkler(&sorted, &sorted_parts(&name.to_lowercase()))))
}

fn sorted_parts(name: &str) -> String {
    let mut parts: Vec<&str> = name.split(['_', '-', '.', ' ']).collect();
    parts.sort_unstable();
    parts.join("_")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_misspelling_case_and_word_order_and_is_silent_otherwise() {
        let known = ["bottom_gap", "height", "latch", "counterbalance"];
        let near = |found| nearest_name(found, known.iter().copied());
        assert_eq!(near("botom_gap"), Some("bottom_gap"));
        assert_eq!(near("LATCH"), Some("latch"));
        assert_eq!(near("gap_bottom"), Some("bottom_gap"));
        assert_eq!(near("zebra"), None);
    }
}
