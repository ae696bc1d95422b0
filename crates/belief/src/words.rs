//! Numbers as a person reads them.

use crate::judge::Size;

/// Words for a probability, from the surest down: at least this much, and how it is said. Judgement,
/// no source.
const WORDS: [(f64, &str); 7] = [
    (0.95, "nearly sure"),
    (0.75, "likely"),
    (0.6, "more likely than not"),
    (0.4, "about even"),
    (0.2, "possible"),
    (0.05, "unlikely"),
    (0.0, "hardly"),
];

/// A probability, 0 to 1, in words.
///
/// # Example
/// ```
/// assert_eq!(belief::in_words(0.8), "likely");
/// assert_eq!(belief::in_words(0.01), "hardly");
/// ```
pub fn in_words(probability: f64) -> &'static str {
    let found = WORDS.iter().find(|(least, _)| probability >= *least);
    found.map_or("hardly", |(_, says)| says)
}

impl Size {
    /// For example `about 18 % of the charge missing, 10 to 27`.
    ///
    /// Whole numbers: the band is wider than any decimal.
    pub fn in_words(&self) -> String {
        let Self {
            says,
            middle,
            low,
            high,
        } = self;
        format!("about {middle:.0} {says}, {low:.0} to {high:.0}")
    }
}
