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

/// The choices that a word was probably meant to be: those that the word, or a part of the choice, is about as near to as
/// to any. `slidng` is nearer to both slides than to `swing`.
pub fn near_choices<'n>(found: &str, choices: &[&'n str]) -> Vec<&'n str> {
    const CLOSE: f64 = 0.8;
    const AS_NEAR: f64 = 0.05;
    /// Shorter parts, such as `of`, are near to anything.
    const SHORTEST_PART: usize = 4;
    let lower = found.to_lowercase();
    let score = |choice: &str| {
        let parts = choice.split('_').filter(|part| part.len() >= SHORTEST_PART);
        std::iter::once(choice).chain(parts).map(|name| strsim::jaro_winkler(&lower, name)).fold(0.0, f64::max)
    };
    let best = choices.iter().map(|choice| score(choice)).fold(0.0, f64::max);
    choices.iter().copied().filter(|choice| score(choice) > CLOSE.max(best - AS_NEAR)).collect()
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
    fn a_word_near_to_a_part_of_several_choices_is_near_to_all_of_them() {
        let types = ["cantilever_slide", "swing", "ground_track_slide", "vertical_lift"];
        for (found, near) in [
            ("slidng", &["cantilever_slide", "ground_track_slide"][..]),
            ("swnig", &["swing"]),
            ("cantilever_slde", &["cantilever_slide"]),
            ("Cantilever", &["cantilever_slide"]),
            ("barrier", &[]),
        ] {
            assert_eq!(near_choices(found, &types), near, "{found}");
        }
    }

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
