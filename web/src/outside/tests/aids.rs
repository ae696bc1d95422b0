//! Screen, sound, clock, address and the small ones: right where they are there, quiet where not.

use super::{pause, script};
use crate::outside::chime::{Chime, Sound};
use crate::outside::persist::{Keeping, ask, keeping};
use crate::outside::visible::{self, Sight};
use crate::outside::wake::{WakeLock, WakeState};
use crate::outside::{clock, ids, panic, route};
use std::cell::RefCell;
use std::collections::HashSet;
use std::rc::Rc;
use wasm_bindgen_test::wasm_bindgen_test;

/// Puts a value in place of a property of the navigator.
fn navigator_has(name: &str, value: &str) {
    script(&format!(
        "Object.defineProperty(navigator, '{name}', {{ value: {value}, configurable: true }})"
    ));
}

/// Takes the stub away again; the browser's own comes back from behind it.
fn navigator_as_before(name: &str) {
    script(&format!("delete navigator.{name}"));
}

/// 2026-03-05 20:47:05 UTC, by `date -u -d 2026-03-05T20:47:05Z +%s`.
const AFTERNOON_MS: i64 = 1_772_743_625_000;

/// Says what the browser's own calendar says, read a different way than the code under test does.
#[wasm_bindgen_test]
fn times_are_local_and_carry_their_offset() {
    let browser = script(&format!(
        "(() => {{
            const at = new Date({AFTERNOON_MS}), two = (n) => String(n).padStart(2, '0');
            const ahead = -at.getTimezoneOffset(), size = Math.abs(ahead);
            const day = [at.getFullYear(), two(at.getMonth() + 1), two(at.getDate())].join('-');
            const time = [at.getHours(), at.getMinutes(), at.getSeconds()].map(two).join(':');
            const zone = (ahead < 0 ? '-' : '+') + two(Math.floor(size / 60)) + ':' + two(size % 60);
            const hour = at.getHours() % 12 || 12, half = at.getHours() < 12 ? 'am' : 'pm';
            return [day + 'T' + time + zone, hour + ':' + two(at.getMinutes()) + ' ' + half].join('|');
        }})()"
    ));
    let ours = format!(
        "{}|{}",
        clock::iso_with_offset(AFTERNOON_MS).unwrap(),
        clock::local_time(AFTERNOON_MS)
    );
    assert_eq!(browser.as_string(), Some(ours));
    let back = script(&format!(
        "Date.parse('{}')",
        clock::iso_with_offset(AFTERNOON_MS).unwrap()
    ));
    assert_eq!(back.as_f64(), Some(AFTERNOON_MS as f64));
    let date = clock::local_date(AFTERNOON_MS);
    assert!(
        ["Mar 5, 2026", "Mar 6, 2026"].contains(&date.as_str()),
        "{date}"
    );
    assert!((clock::now_ms() - js_sys::Date::now() as i64).abs() < 1_000);
}

/// Offsets of three places on that day: Chicago -6 h (no summer time before 8 March), Kolkata +5:30,
/// St John's -3:30. From the time zone database; the device's own is replaced for the question.
#[wasm_bindgen_test]
fn offsets_west_east_and_of_half_an_hour_are_written_as_the_standard_wants() {
    for (behind_min, expected) in [
        (360, "2026-03-05T14:47:05-06:00"),
        (-330, "2026-03-06T02:17:05+05:30"),
        (210, "2026-03-05T17:17:05-03:30"),
        (0, "2026-03-05T20:47:05+00:00"),
    ] {
        script(&format!(
            "window.plainOffset = Date.prototype.getTimezoneOffset;
             Date.prototype.getTimezoneOffset = () => {behind_min}"
        ));
        let written = clock::iso_with_offset(AFTERNOON_MS);
        script("Date.prototype.getTimezoneOffset = window.plainOffset");
        assert_eq!(written.as_deref(), Some(expected));
    }
}

#[wasm_bindgen_test]
fn an_instant_outside_the_calendar_is_no_exception() {
    for far in [i64::MAX, i64::MIN, 8_640_000_000_000_001] {
        assert_eq!(clock::iso_with_offset(far), None);
        assert_eq!(clock::local_time(far), "time unknown");
        assert_eq!(clock::local_date(far), "time unknown");
    }
}

#[wasm_bindgen_test]
async fn the_screen_lock_tells_what_the_phone_did() {
    navigator_has(
        "wakeLock",
        "{ request: () => window.lock ? Promise.resolve(window.lock)
                                      : Promise.reject(new DOMException('', 'NotAllowedError')) }",
    );
    let told = Rc::new(RefCell::new(Vec::new()));
    let tell = told.clone();
    let lock = WakeLock::new(move |state| tell.borrow_mut().push(state));
    assert_eq!(lock.state(), WakeState::Off);
    script("window.lock = null");
    assert_eq!(lock.request().await, WakeState::Refused);
    script(
        "window.lock = Object.assign(new EventTarget(), {
             release() { this.dispatchEvent(new Event('release')); return Promise.resolve(); } })",
    );
    assert_eq!(lock.request().await, WakeState::On);
    // The phone lets go by itself when the page is hidden.
    script("window.lock.dispatchEvent(new Event('release'))");
    assert_eq!(lock.state(), WakeState::Off);
    assert_eq!(lock.request().await, WakeState::On);
    assert_eq!(lock.release().await, WakeState::Off);
    use WakeState::{Off, On, Refused};
    assert_eq!(*told.borrow(), [Refused, On, Off, On, Off]);
    navigator_as_before("wakeLock");
}

#[wasm_bindgen_test]
async fn a_phone_without_a_screen_lock_says_so() {
    navigator_has("wakeLock", "undefined");
    let lock = WakeLock::new(|_| ());
    assert_eq!(lock.state(), WakeState::NotAvailable);
    assert_eq!(lock.request().await, WakeState::NotAvailable);
    assert_eq!(lock.release().await, WakeState::NotAvailable);
    navigator_as_before("wakeLock");
}

#[wasm_bindgen_test]
async fn a_chime_starts_four_tones_and_one_buzz_when_the_sound_runs() {
    script(
        "window.tones = 0; window.buzzes = [];
         window.plainStart = AudioScheduledSourceNode.prototype.start;
         AudioScheduledSourceNode.prototype.start = function (at) {
             window.tones += 1; return window.plainStart.call(this, at); };
         window.plainState = Object.getOwnPropertyDescriptor(BaseAudioContext.prototype, 'state');
         Object.defineProperty(BaseAudioContext.prototype, 'state',
             { get() { return window.audioState; }, configurable: true })",
    );
    navigator_has(
        "vibrate",
        "(pattern) => { window.buzzes.push(pattern.join()); return true; }",
    );
    let chime = Chime::new();
    assert_eq!(chime.sound(), Sound::NotAvailable);

    script("window.audioState = 'suspended'");
    assert_eq!(chime.unlock().await, Sound::NeedsTap);
    let rang = chime.ring();
    assert_eq!((rang.sound, script("window.tones")), (false, 0.into()));

    script("window.audioState = 'running'");
    assert_eq!(chime.unlock().await, Sound::Ready);
    let rang = chime.ring();
    script(
        "AudioScheduledSourceNode.prototype.start = window.plainStart;
         Object.defineProperty(BaseAudioContext.prototype, 'state', window.plainState)",
    );
    navigator_as_before("vibrate");
    assert!(rang.sound && rang.buzz);
    assert_eq!(script("window.tones"), 4);
    let buzzes = script("window.buzzes.join(' | ')");
    assert_eq!(
        buzzes.as_string().as_deref(),
        Some("300,150,300 | 300,150,300")
    );
}

#[wasm_bindgen_test]
async fn a_device_without_sound_and_buzz_rings_in_silence() {
    script("window.plainAudio = window.AudioContext; window.AudioContext = undefined");
    navigator_has("vibrate", "undefined");
    let chime = Chime::new();
    assert_eq!(chime.unlock().await, Sound::NotAvailable);
    let rang = chime.ring();
    script("window.AudioContext = window.plainAudio");
    navigator_as_before("vibrate");
    assert!(!rang.sound && !rang.buzz);
}

#[wasm_bindgen_test]
async fn the_promise_to_keep_is_told_as_the_browser_gives_it() {
    for (stub, expected) in [
        (
            "{ persist: async () => true, persisted: async () => true }",
            Keeping::Protected,
        ),
        (
            "{ persist: async () => false, persisted: async () => false }",
            Keeping::MayBeCleared,
        ),
        (
            "{ persist: async () => { throw 1 }, persisted: async () => { throw 1 } }",
            Keeping::NotKnown,
        ),
        (
            "{ persist() { throw 1 }, persisted() { throw 1 } }",
            Keeping::NotKnown,
        ),
        ("{}", Keeping::NotKnown),
        ("undefined", Keeping::NotKnown),
    ] {
        navigator_has("storage", stub);
        assert_eq!(
            (keeping().await, ask().await),
            (expected, expected),
            "{stub}"
        );
    }
    navigator_as_before("storage");
}

#[wasm_bindgen_test]
fn identifiers_differ_and_are_also_made_without_the_newer_call() {
    let newer: HashSet<String> = (0..200).map(|_| ids::random_id().unwrap()).collect();
    script("Object.defineProperty(crypto, 'randomUUID', { value: undefined, configurable: true })");
    let older: HashSet<String> = (0..200).map(|_| ids::random_id().unwrap()).collect();
    script("delete crypto.randomUUID");
    assert_eq!((newer.len(), older.len()), (200, 200));
    let form = "/^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/";
    for id in newer.iter().chain(&older) {
        assert_eq!(script(&format!("{form}.test('{id}')")), true, "{id}");
    }
}

#[wasm_bindgen_test]
async fn a_route_is_set_read_and_told_until_nobody_listens() {
    let told = Rc::new(RefCell::new(Vec::new()));
    let tell = told.clone();
    let listening = route::on_change(move |route| tell.borrow_mut().push(route));
    assert!(route::go("/stem"));
    pause(30).await;
    assert_eq!(route::current(), "/stem");
    drop(listening);
    assert!(route::go(""));
    pause(30).await;
    assert_eq!(route::current(), "");
    assert_eq!(*told.borrow(), ["/stem"]);
}

#[wasm_bindgen_test]
fn coming_and_going_are_told() {
    let told = Rc::new(RefCell::new(Vec::new()));
    let tell = told.clone();
    let listening = visible::on_change(move |sight| tell.borrow_mut().push(sight));
    for (place, event) in [
        ("window", "pageshow"),
        ("window", "focus"),
        ("window", "pagehide"),
        ("document", "visibilitychange"),
    ] {
        script(&format!("{place}.dispatchEvent(new Event('{event}'))"));
    }
    script(
        "Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
         document.dispatchEvent(new Event('visibilitychange')); delete document.visibilityState",
    );
    use Sight::{Hidden, Seen};
    assert_eq!(*told.borrow(), [Seen, Seen, Hidden, Seen, Hidden]);

    // A handler that stayed behind would throw when it is called.
    drop(listening);
    script(
        "window.strays = 0;
         window.countStray = (event) => { window.strays += 1; event.preventDefault(); };
         window.addEventListener('error', window.countStray);
         window.dispatchEvent(new Event('focus'));
         window.removeEventListener('error', window.countStray)",
    );
    assert_eq!(script("window.strays"), 0);
    assert_eq!(told.borrow().len(), 5);
}

/// A real failure would end the program that runs these tests; the hook does no more than this and log.
#[wasm_bindgen_test]
fn a_failure_of_the_program_uncovers_the_card_if_there_is_one() {
    panic::uncover_card();
    script(
        "document.body.insertAdjacentHTML('beforeend', '<p id=crash role=alert hidden>Reload</p>')",
    );
    panic::uncover_card();
    assert_eq!(script("document.getElementById('crash').hidden"), false);
}
