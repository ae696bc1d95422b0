//! What a person typed as a number, in any of the ways people type numbers.

/// Why a text is not a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NumberFault {
    /// Nothing but blanks. Not zero.
    Blank,
    /// No number at all, or more than one.
    NotANumber,
    /// "1,234": one and a bit, or one thousand and more?
    Ambiguous,
}

impl NumberFault {
    /// What is wrong and what to do.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Blank => "Nothing entered.",
            Self::NotANumber => {
                "Not a number. Digits, one decimal point or comma, a minus in front."
            }
            Self::Ambiguous => "Thousands or decimals? Write 1234 or 1.234.",
        }
    }
}

/// Reads a number with one decimal point or one decimal comma and a minus of any kind.
///
/// # Errors
/// [`NumberFault`]; a comma before exactly three digits is ambiguous and is asked back, not guessed.
///
/// # Example
/// ```
/// use job::{NumberFault, read_number};
/// assert_eq!(read_number(" −4,5 "), Ok(-4.5));
/// assert_eq!(read_number("1,234"), Err(NumberFault::Ambiguous));
/// assert_eq!(read_number(""), Err(NumberFault::Blank));
/// ```
pub fn read_number(text: &str) -> Result<f64, NumberFault> {
    let text = text.trim();
    if text.is_empty() {
        return Err(NumberFault::Blank);
    }
    // U+2212 is the true minus, U+2013 what some keyboards give instead.
    let (sign, digits) = match text.strip_prefix(['-', '\u{2212}', '\u{2013}']) {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').map_or(text, str::trim_start)),
    };
    let marks = digits.chars().filter(|&c| c == '.' || c == ',').count();
    let plain = digits
        .chars()
        .all(|c| c.is_ascii_digit() || c == '.' || c == ',');
    if !plain || marks > 1 || !digits.chars().any(|c| c.is_ascii_digit()) {
        return Err(NumberFault::NotANumber);
    }
    if let Some((whole, part)) = digits.split_once(',')
        && part.len() == 3
        && !whole.is_empty()
        && whole != "0"
    {
        return Err(NumberFault::Ambiguous);
    }
    let number: f64 = digits
        .replace(',', ".")
        .parse()
        .map_err(|_| NumberFault::NotANumber)?;
    // No instrument has twenty digits; and minus nothing is nothing.
    if !number.is_finite() {
        Err(NumberFault::NotANumber)
    } else {
        Ok(sign * number + 0.0)
    }
}
