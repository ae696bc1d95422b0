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
    let number = decimal(digits).ok_or(NumberFault::NotANumber)?;
    // Minus nothing is nothing.
    Ok(sign * number + 0.0)
}

/// The number that digits and one mark write; `None` for more digits than any instrument has.
///
/// Both parts of the division are whole numbers that a float holds exactly, so the quotient is the
/// float nearest to what was typed, as the standard library's reader gives it. That one is made for
/// any number there is and would weigh 14 kB in the page.
fn decimal(digits: &str) -> Option<f64> {
    /// Whole numbers to here are exact in a float, and so are powers of ten to this one.
    const EXACT: u64 = 1 << 53;
    const MOST_PLACES: usize = 22;
    let places = digits
        .split_once(['.', ','])
        .map_or(0, |(_, part)| part.len());
    let mut whole: u64 = 0;
    for digit in digits.bytes().filter(u8::is_ascii_digit) {
        whole = whole.checked_mul(10)?.checked_add((digit - b'0').into())?;
    }
    let scale = (0..places).fold(1.0, |scale, _| scale * 10.0);
    (whole <= EXACT && places <= MOST_PLACES).then(|| whole as f64 / scale)
}

#[cfg(test)]
mod tests {
    use super::decimal;

    /// Source: the standard library's own reader, on numbers spread over all lengths.
    #[test]
    fn digits_are_read_as_the_standard_library_reads_them() {
        let mut digits: u64 = 7;
        for round in 0..20_000_u32 {
            digits = digits
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695);
            let text = (digits >> (12 + round % 50)).to_string();
            let (whole, part) = text.split_at(text.len() / (1 + round as usize % 3));
            let text = format!("{whole}.{part}");
            assert_eq!(decimal(&text), text.parse().ok(), "{text}");
        }
        assert_eq!(decimal("12345678901234567"), None);
    }
}
