//! Short lists in order.

/// The items in the order of their keys; equals stay as they came.
///
/// The lists of a screen hold some dozens at most. Each is put in its place as it comes: the sort of
/// the standard library would bring some kilobytes for every type that is sorted.
pub(crate) fn in_order<T, K: Ord>(
    items: impl IntoIterator<Item = T>,
    key: impl Fn(&T) -> K,
) -> Vec<T> {
    let mut list: Vec<T> = Vec::new();
    for item in items {
        let at = list.partition_point(|before| key(before) <= key(&item));
        list.insert(at, item);
    }
    list
}

#[cfg(test)]
mod tests {
    use super::in_order;

    #[test]
    fn items_stand_by_their_keys_and_equals_as_they_came() {
        let letters = in_order("beads".char_indices(), |&(_, letter)| letter);
        let text: String = letters.iter().map(|(_, letter)| letter).collect();
        assert_eq!(text, "abdes");
        let parity = in_order([5, 2, 3, 4, 1], |number| number % 2);
        assert_eq!(parity, [2, 4, 5, 3, 1]);
    }
}
