//! A short sound and a buzz when a wait is over.
//!
//! A page cannot ring while the phone is locked; the screen that starts a wait must say so.

use super::js;
use js_sys::{Array, Function, Reflect};
use std::cell::RefCell;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{AudioContext, OscillatorType};

/// Pitch, Hz, and start, s after the first, of each tone. High enough to stand out from a running fan.
const TONES: [(f32, f64); 4] = [(1320.0, 0.0), (1760.0, 0.25), (1320.0, 0.7), (1760.0, 0.95)];
/// Length of one tone, s.
const TONE_S: f64 = 0.22;
/// Loudness of a tone, where 1 is the most the device gives.
const LOUDNESS: f32 = 0.6;
/// Loudness a tone starts from and fades to: an exponential ramp cannot touch zero.
const SILENCE: f32 = 0.001;
/// Buzz and pause in turn, ms.
const BUZZ_MS: [u32; 3] = [300, 150, 300];
/// How long the browser may take to wake its sound, ms; without a tap it never does.
const WAKE_LIMIT_MS: i32 = 500;

/// Whether a chime would be heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sound {
    /// The sound is running. The phone's own volume and mute switch still decide.
    Ready,
    /// The browser holds the sound back until a tap.
    NeedsTap,
    /// This browser makes no sound for us.
    NotAvailable,
}

/// What a ring did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rang {
    /// The tones were sent to the device.
    pub sound: bool,
    /// The device took the buzz.
    pub buzz: bool,
}

/// The chime of this page.
#[derive(Default)]
pub struct Chime {
    context: RefCell<Option<AudioContext>>,
}

impl Chime {
    /// A chime that still needs [`Chime::unlock`].
    pub fn new() -> Chime {
        Chime::default()
    }

    /// Makes the sound ready. Call it inside a tap, such as the one that starts a wait, and again on
    /// each return to the page, since a phone stops the sound of a page out of view.
    ///
    /// The browser is asked before the first wait, so the call still counts as part of the tap.
    pub async fn unlock(&self) -> Sound {
        let asked = {
            let mut context = self.context.borrow_mut();
            if context.is_none() {
                *context = new_context();
            }
            context.as_ref().and_then(|context| context.resume().ok())
        };
        if let Some(promise) = asked {
            // A refusal and a silence both show in the state that is read next.
            let _ = js::within(&promise, WAKE_LIMIT_MS).await;
        }
        self.sound()
    }

    /// Whether a chime would be heard now.
    pub fn sound(&self) -> Sound {
        // Read as text: one maker has a state of its own that is in no standard.
        let context = self.context.borrow();
        match context
            .as_ref()
            .and_then(|context| js::text(context, "state"))
        {
            Some(state) if state == "running" => Sound::Ready,
            Some(state) if state != "closed" => Sound::NeedsTap,
            _ => Sound::NotAvailable,
        }
    }

    /// Rings once and says what was done. Sound that is held back is not queued: it would come out
    /// later, at some tap that has nothing to do with the wait.
    pub fn ring(&self) -> Rang {
        let context = self.context.borrow();
        let sound = match context.as_ref() {
            Some(context) if self.sound() == Sound::Ready => play(context).is_ok(),
            _ => false,
        };
        Rang {
            sound,
            buzz: buzz(),
        }
    }
}

/// The browser's sound, looked up at the time: the bindings look once, before anything has run.
fn new_context() -> Option<AudioContext> {
    let maker: Function = js::field(js::window()?.as_ref(), "AudioContext")?
        .dyn_into()
        .ok()?;
    let made = Reflect::construct(&maker, &Array::new()).ok()?;
    Some(made.unchecked_into())
}

fn play(context: &AudioContext) -> Result<(), JsValue> {
    let now = context.current_time();
    for (pitch, after) in TONES {
        let (start, end) = (now + after, now + after + TONE_S);
        let tone = context.create_oscillator()?;
        let volume = context.create_gain()?;
        tone.set_type(OscillatorType::Triangle);
        tone.frequency().set_value(pitch);
        volume.gain().set_value_at_time(SILENCE, start)?;
        volume
            .gain()
            .exponential_ramp_to_value_at_time(LOUDNESS, start + 0.02)?;
        volume
            .gain()
            .exponential_ramp_to_value_at_time(SILENCE, end)?;
        tone.connect_with_audio_node(&volume)?;
        volume.connect_with_audio_node(&context.destination())?;
        tone.start_with_when(start)?;
        // The bindings mark this call of the oscillator as old; the one it inherits is the same call.
        let ender: &web_sys::AudioScheduledSourceNode = tone.unchecked_ref();
        ender.stop_with_when(end)?;
    }
    Ok(())
}

fn buzz() -> bool {
    let pattern: Array = BUZZ_MS.into_iter().map(JsValue::from).collect();
    js::navigator()
        .and_then(|navigator| js::call(&navigator, "vibrate", &[pattern.into()]))
        .is_some_and(|answer| matches!(answer, Ok(taken) if taken.is_truthy()))
}
