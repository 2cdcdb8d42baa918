//! Dates as ranges of days: `2026-10-19` is a day, `2026-10` the whole month, `2026` the whole year.

use super::{LiteralError, Quantity};

/// Reads a date; days are counted from 1970-01-01.
///
/// # Errors
/// The text is no date of the calendar in the order year, month, day.
pub fn read_date(text: &str) -> Result<Quantity, LiteralError> {
    let trimmed = text.trim();
    let start = text.len() - text.trim_start().len();
    let whole = start..start + trimmed.len();
    let refuse = |at: std::ops::Range<usize>, message: String| {
        Err(LiteralError::unreadable(at, message).with_help("write 2026-10-19, 2026-10 or 2026"))
    };
    let parts: Vec<&str> = trimmed.split('-').collect();
    let digits = |part: &str, len: usize| part.len() == len && part.bytes().all(|byte| byte.is_ascii_digit());
    let shape = parts.len() <= 3 && digits(parts[0], 4) && parts[1..].iter().all(|part| digits(part, 2));
    if !shape {
        return refuse(whole, format!("a date is written year-month-day; `{trimmed}` is found"));
    }
    let number = |part: &str| part.parse::<i64>().unwrap_or_default();
    let year = number(parts[0]);
    let Some(month) = parts.get(1) else {
        return Ok(Quantity::range(days(year, 1, 1), days(year, 12, 31)));
    };
    let month_at = start + 5..start + 7;
    let (month, written) = (number(month), month);
    if !(1..=12).contains(&month) {
        return refuse(month_at, format!("a month is 01 to 12; `{written}` is found"));
    }
    let last = days_in(year, month);
    let Some(day) = parts.get(2) else {
        return Ok(Quantity::range(days(year, month, 1), days(year, month, last)));
    };
    if !(1..=last).contains(&number(day)) {
        let message = format!("{}-{written} has {last} days; `{day}` is found", parts[0]);
        return refuse(start + 8..start + 10, message);
    }
    Ok(Quantity::point(days(year, month, number(day))))
}

/// A date as it is written: a day, a month, a year, or a range of days.
pub fn show_date(days: Quantity) -> String {
    let (from, to) = (civil(days.lo), civil(days.hi));
    if from == to {
        return day(from);
    }
    if from.1 == 1 && from.2 == 1 && to == (from.0, 12, 31) {
        return format!("{:04}", from.0);
    }
    if from.2 == 1 && to == (from.0, from.1, days_in(from.0, from.1)) {
        return format!("{:04}-{:02}", from.0, from.1);
    }
    format!("{} to {}", day(from), day(to))
}

fn day((year, month, day): (i64, i64, i64)) -> String {
    format!("{year:04}-{month:02}-{day:02}")
}

fn is_leap(year: i64) -> bool {
    (year % 4 == 0 && year % 100 != 0) || year % 400 == 0
}

fn days_in(year: i64, month: i64) -> i64 {
    match month {
        2 if is_leap(year) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// Days from 1970-01-01 in the Gregorian calendar.
fn days(year: i64, month: i64, day: i64) -> f64 {
    let before = |year: i64| year * 365 + year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
    let months: i64 = (1..month).map(|month| days_in(year, month)).sum();
    // `before` counts the leap days up to and with its year, so it is asked for the years that are over.
    let count = before(year - 1) - before(1969) + months + day - 1;
    count as f64
}

/// Year, month and day of a count of days.
fn civil(count: f64) -> (i64, i64, i64) {
    let count = count as i64;
    let mut year = 1970 + count.div_euclid(366);
    while days(year, 1, 1) > count as f64 {
        year -= 1;
    }
    while days(year + 1, 1, 1) <= count as f64 {
        year += 1;
    }
    let mut month = 1;
    while month < 12 && days(year, month + 1, 1) <= count as f64 {
        month += 1;
    }
    (year, month, count - days(year, month, 1) as i64 + 1)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn days_count_from_1970() {
        // 2016-01-12 is 16812 days after 1970-01-01: 46 years with 11 leap days (1972 to 2012) and 11 days.
        assert_eq!(read_date("2016-01-12").unwrap(), Quantity::point(46.0 * 365.0 + 11.0 + 11.0));
        assert_eq!(read_date("1970").unwrap(), Quantity::range(0.0, 364.0));
        let february = read_date("2024-02").unwrap();
        assert_eq!(february.hi - february.lo, 28.0);
    }

    #[test]
    fn what_is_no_date_is_refused_with_its_place() {
        for (text, at, words) in [
            ("10/19/2026", 0..10, "year-month-day"),
            ("2026-13", 5..7, "month is 01 to 12"),
            ("2026-02-30", 8..10, "has 28 days"),
            ("26-10-19", 0..8, "year-month-day"),
            ("2026-1", 0..6, "year-month-day"),
        ] {
            let error = read_date(text).unwrap_err();
            assert_eq!(error.at, at, "{text}");
            assert!(error.message.contains(words), "{text}: {}", error.message);
        }
    }

    proptest! {
        #[test]
        fn a_date_is_printed_as_it_was_read(count in -30_000i64..60_000) {
            let text = show_date(Quantity::point(count as f64));
            prop_assert_eq!(read_date(&text).unwrap(), Quantity::point(count as f64));
        }

        #[test]
        fn the_next_day_is_one_more(year in 1900i64..2200, month in 1i64..=12) {
            let last = days(year, month, days_in(year, month));
            let next = if month == 12 { days(year + 1, 1, 1) } else { days(year, month + 1, 1) };
            prop_assert_eq!(last + 1.0, next);
        }
    }
}
