//! Identifiers that nothing else has.

use super::js;
use js_sys::Uint8Array;

/// A random identifier in the form of a version 4 UUID, 36 characters.
///
/// `None` where the browser offers no cryptographic randomness at all: a weaker source could give two
/// jobs one name.
///
/// # Source
/// Form of the text: RFC 9562, sections 4 and 5.4.
pub fn random_id() -> Option<String> {
    let crypto = js::field(js::window()?.as_ref(), "crypto")?;
    // Only pages from a secure address have this one.
    if let Some(Ok(id)) = js::call(&crypto, "randomUUID", &[]) {
        return id.as_string();
    }
    let bytes = Uint8Array::new_with_length(16);
    js::call(&crypto, "getRandomValues", &[bytes.clone().into()])?.ok()?;
    Some(written(bytes.to_vec().try_into().ok()?))
}

/// Writes 16 random bytes as a version 4 UUID; six of the bits say that it is one.
fn written(mut bytes: [u8; 16]) -> String {
    bytes[6] = bytes[6] & 0x0f | 0x40;
    bytes[8] = bytes[8] & 0x3f | 0x80;
    let mut id = String::with_capacity(36);
    for (place, byte) in bytes.iter().enumerate() {
        if matches!(place, 4 | 6 | 8 | 10) {
            id.push('-');
        }
        id.push_str(&format!("{byte:02x}"));
    }
    id
}

#[cfg(test)]
mod tests {
    use super::written;

    /// RFC 9562, appendix A.3: the worked example of a version 4 UUID. The version and variant bits
    /// are cleared first, so that the test sees them being set.
    #[test]
    fn random_bytes_are_written_as_the_standard_shows() {
        let bytes = 0x919108f7_52d1_0320_1bac_f847db4148a8_u128.to_be_bytes();
        assert_eq!(written(bytes), "919108f7-52d1-4320-9bac-f847db4148a8");
    }
}
