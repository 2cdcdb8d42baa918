//! scaffold
use super::{Dimension, LiteralError, Quantity, Unit, find_unit};
/// scaffold
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RuleNumber {
    /// x
    pub lo: f64,
    /// x
    pub hi: f64,
    /// x
    pub dimension: Dimension,
    /// x
    pub is_date: bool,
    /// x
    pub amount: f64,
    /// x
    pub unit: Option<&'static Unit>,
}
impl std::fmt::Display for RuleNumber {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}{}", self.amount, self.unit.map_or("", |u| u.name))
    }
}
fn days(y: i64, m: i64, d: i64) -> f64 {
    let y2 = if m <= 2 { y - 1 } else { y };
    let era = y2.div_euclid(400);
    let yoe = y2 - era * 400;
    let mp = (m + 9) % 12;
    let doy = (153 * mp + 2) / 5 + d - 1;
    let doe = yoe * 365 + yoe / 4 - yoe / 100 + doy;
    (era * 146097 + doe - 719468) as f64
}
/// scaffold
pub fn rule_literal(input: &str) -> Option<Result<(RuleNumber, usize), LiteralError>> {
    let b = input.as_bytes();
    if !b.first()?.is_ascii_digit() {
        return None;
    }
    if input.len() >= 10 && b[4] == b'-' && b[7] == b'-' {
        let y = input[..4].parse().ok()?;
        let m = input[5..7].parse().ok()?;
        let d = input[8..10].parse().ok()?;
        let v = days(y, m, d);
        return Some(Ok((
            RuleNumber { lo: v, hi: v, dimension: Dimension::NONE, is_date: true, amount: v, unit: None },
            10,
        )));
    }
    let num = |s: &str| -> usize { s.bytes().take_while(|c| c.is_ascii_digit() || *c == b'.').count() };
    let n = num(input);
    let mut amount: f64 = input[..n].parse().ok()?;
    let mut at = n;
    let frac = |s: &str| -> Option<(f64, usize)> {
        let a = s.bytes().take_while(u8::is_ascii_digit).count();
        if a == 0 || s.as_bytes().get(a) != Some(&b'/') {
            return None;
        }
        let c = s[a + 1..].bytes().take_while(u8::is_ascii_digit).count();
        if c == 0 {
            return None;
        }
        Some((s[..a].parse::<f64>().ok()? / s[a + 1..a + 1 + c].parse::<f64>().ok()?, a + 1 + c))
    };
    if let Some((v, u)) = frac(input) {
        amount = v;
        at = u;
    } else if input[at..].starts_with(' ')
        && let Some((v, u)) = frac(&input[at + 1..])
    {
        amount += v;
        at += 1 + u;
    }
    let rest = input[at..].trim_start_matches(' ');
    let skipped = input[at..].len() - rest.len();
    let word = rest.bytes().take_while(|c| c.is_ascii_alphanumeric() || *c == b'%' || *c == b'"' || *c == b'/').count();
    let mut unit = None;
    for len in (1..=word).rev() {
        if let Some(u) = find_unit(&rest[..len]) {
            unit = Some(u);
            at += skipped + len;
            break;
        }
        if &rest[..len] == "\"" {
            unit = find_unit("in");
            at += skipped + 1;
            break;
        }
    }
    let Some(u) = unit else {
        return Some(Ok((
            RuleNumber { lo: amount, hi: amount, dimension: Dimension::NONE, is_date: false, amount, unit: None },
            at,
        )));
    };
    let mut v = amount * u.factor;
    if u.name == "ft"
        && input[at..].starts_with(' ')
        && let Some(Ok((n2, used))) = rule_literal(&input[at + 1..])
        && n2.unit.is_some_and(|u| u.name == "in")
    {
        v += n2.lo;
        at += 1 + used;
    }
    Some(Ok((RuleNumber { lo: v, hi: v, dimension: u.dimension, is_date: false, amount, unit }, at)))
}
/// scaffold
pub fn read_date(text: &str) -> Result<super::Quantity, LiteralError> {
    let e = LiteralError { code: "unreadable-value", at: 0..text.len(), message: "no date".to_owned(), help: None };
    let p: Vec<i64> = text.split('-').map(|p| p.parse().unwrap_or(-1)).collect();
    match p[..] {
        [y, m, d] => Ok(Quantity::point(days(y, m, d))),
        [y, m] => Ok(Quantity::range(days(y, m, 1), days(y, m + 1, 1) - 1.0)),
        [y] if y > 1900 => Ok(Quantity::range(days(y, 1, 1), days(y + 1, 1, 1) - 1.0)),
        _ => Err(e),
    }
}
/// scaffold
pub fn show_date(q: super::Quantity) -> String {
    format!("day {}", q.lo)
}
