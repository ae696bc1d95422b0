//! The bench as text: what crosses, what never does, and that it is the session itself.

use job::{Event, Job, SavedEvent};
use practice::{Action, Bench, Case, Refused, Session, good_technician, lessons, run_script};
use serde_json::{Value, json};

fn ask(bench: &mut Bench, question: Value) -> Value {
    let said = bench
        .answer(&json!({ "bench": question }).to_string())
        .expect("it is the bench's");
    serde_json::from_str(&said).expect("JSON")
}

fn error(bench: &mut Bench, question: Value) -> String {
    let said = ask(bench, question);
    assert!(
        said["error"]["says"]
            .as_str()
            .is_some_and(|it| !it.is_empty())
    );
    said["error"]["key"].as_str().expect("a key").to_owned()
}

#[test]
fn what_is_not_its_own_is_left_to_others() {
    let mut bench = Bench::default();
    for text in ["", "nonsense", "[]", "3", r#"{"told": {}}"#] {
        assert_eq!(bench.answer(text), None, "{text}");
    }
}

#[test]
fn questions_that_cannot_be_answered_are_told_why() {
    let mut bench = Bench::default();
    assert_eq!(error(&mut bench, json!("dance")), "not-a-question");
    assert_eq!(error(&mut bench, json!({"pass": -1})), "not-a-question");
    assert_eq!(error(&mut bench, json!({"begin": "bench=x"})), "case");
    for question in [
        json!({"pass": 1}),
        json!("debrief"),
        json!({"do": {"do": "leave"}}),
    ] {
        assert_eq!(error(&mut bench, question), "not-begun");
    }
    ask(&mut bench, json!({"begin": "bench=41"}));
    assert_eq!(error(&mut bench, json!("debrief")), "not-over");
    let refused = json!({"do": {"do": "start-again"}});
    assert_eq!(error(&mut bench, refused), Refused::Runs.key());
    let later = json!({"version": 2, "address": "bench=1", "steps": [], "until_s": 0});
    assert_eq!(error(&mut bench, json!({"resume": later})), "attempt");
    // What was wrong has ended nothing.
    assert_eq!(ask(&mut bench, json!({"pass": 30}))["passed"]["at_s"], 30);
}

/// A sheet as one text.
fn flat(sheet: &Value) -> String {
    match sheet {
        Value::String(text) => format!("{text} "),
        Value::Array(tree) => tree.iter().skip(2).map(flat).collect(),
        _ => String::new(),
    }
}

/// Every tree of a sheet that has this attribute.
fn with<'a>(sheet: &'a Value, attribute: &str, found: &mut Vec<&'a Value>) {
    let Value::Array(tree) = sheet else { return };
    if tree[1].get(attribute).is_some() {
        found.push(sheet);
    }
    tree.iter()
        .skip(2)
        .for_each(|it| with(it, attribute, found));
}

#[test]
fn the_bench_is_the_session_and_an_attempt_takes_it_up_again() {
    let mut bench = Bench::default();
    let mut session = Session::begin(Case::parse("bench=41").expect("a case"));
    ask(&mut bench, json!({"begin": "bench=41"}));
    let same = |said: &Value, session: &Session| {
        assert_eq!(said["at_s"], session.at_s());
        assert_eq!(said["tells"], session.finding_tells().key());
        let attempt = serde_json::to_value(session.attempt()).expect("plain");
        assert_eq!(said["attempt"], attempt);
        for (field, value) in session.reading().entries() {
            let shown = said["live"][field.row().key].as_str().expect("it is shown");
            let shown = shown
                .split(' ')
                .next()
                .expect("a number")
                .replace('\u{2212}', "-");
            let shown: f64 = shown.parse().expect("a number");
            assert!((shown - value).abs() < 0.051, "{}", field.row().key);
        }
    };
    for action in Action::samples() {
        if action == Action::Leave || session.apply(action.clone()).is_err() {
            continue;
        }
        let said = ask(&mut bench, json!({"do": action}));
        same(&said["now"], &session);
        session.pass(30);
        ask(&mut bench, json!({"pass": 30}));
        let attempt = serde_json::to_value(session.attempt()).expect("plain");
        let again = ask(&mut Bench::default(), json!({"resume": attempt}));
        same(&again["now"], &session);
        assert_eq!(again["now"]["seen"], json!([]));
    }
}

/// What a job is begun with, and what actions and readings are in it, are events of a job; and the
/// job they make judges the readings as the session itself does.
#[test]
fn what_crosses_for_the_job_makes_a_job() {
    for lesson in lessons() {
        let mut bench = Bench::default();
        let mut all: Vec<Event> = Vec::new();
        let mut take = |said: &Value| {
            let events: Vec<Event> = serde_json::from_value(said.clone()).expect("events");
            all.extend(events);
        };
        take(&ask(&mut bench, json!({"begin": lesson.address()}))["now"]["events"]);
        let mut session = Session::begin(Case::of_lesson(lesson).expect("a lesson"));
        for (key, place) in [
            ("connect-gauges", "service-valve"),
            ("strap-probes", "bulb"),
        ] {
            let mut action = json!({"do": key, "place": place});
            if key == "strap-probes" {
                action["wrapped"] = json!(true);
            }
            session
                .apply(serde_json::from_value(action.clone()).expect("an action"))
                .expect("at first");
            take(&ask(&mut bench, json!({"do": action}))["now"]["events"]);
        }
        session.pass(300);
        ask(&mut bench, json!({"pass": 300}));
        take(&ask(&mut bench, json!("reading"))["reading"]);
        let saved: Vec<SavedEvent> = all
            .into_iter()
            .map(|event| SavedEvent { at_ms: 0, event })
            .collect();
        let job = Job::of_events("practice", 0, true, &saved);
        assert!(job.title().ends_with("Practice, simulated"));
        let said = job.assess(&job.draft).expect("a reading").derived;
        let gate = diagnosis::Gate::HELD;
        let own = diagnosis::assess(&session.setup(gate), &session.reading()).derived;
        assert_eq!(said.superheat, own.superheat, "{}", lesson.key);
        assert_eq!(said.subcooling, own.subcooling, "{}", lesson.key);
        assert_eq!(
            said.superheat_target, own.superheat_target,
            "{}",
            lesson.key
        );
    }
}

/// Every deed on a sheet is one that the plant does not refuse, with its cost and caution beside it.
#[test]
fn what_a_sheet_offers_can_be_done() {
    for lesson in lessons() {
        let mut bench = Bench::default();
        let now = ask(&mut bench, json!({"begin": lesson.address()}))["now"].clone();
        let mut asking = Vec::new();
        with(&now["sheet"], "data-ask", &mut asking);
        let attempt = now["attempt"].clone();
        let mut done = 0;
        for it in asking {
            let text = it[1]["data-ask"].as_str().expect("a text");
            let wish: Value = serde_json::from_str(text).expect("JSON");
            let Some(action) = wish.get("do") else {
                continue;
            };
            let mut other = Bench::default();
            ask(&mut other, json!({"resume": attempt}));
            let said = ask(&mut other, json!({"do": action}));
            assert!(said["now"].is_object(), "{action}: {said}");
            done += 1;
        }
        assert!(done >= 10, "only {done} deeds");
        let mut live = Vec::new();
        with(&now["sheet"], "data-live", &mut live);
        assert!(live.len() >= 3);
        let sheet = flat(&now["sheet"]);
        for words in [
            lesson.task.as_str(),
            lesson.case.complaint.as_str(),
            "demo, invented",
        ] {
            assert!(sheet.contains(words), "{words}");
        }
        let row = Action::ConnectGauges {
            place: practice::Place::Bulb,
        };
        assert!(sheet.contains(row.row().caution.expect("it has one")));
    }
}

/// The debrief on a sheet: points, cause, each lost point's reason, and charts whose tables hold as
/// many numbers as the lines have points.
#[test]
fn the_debrief_on_a_sheet_tells_what_the_debrief_tells() {
    let mut bench = Bench::default();
    ask(&mut bench, json!({"begin": "bench=6;lesson=set-the-stem"}));
    ask(
        &mut bench,
        json!({"do": {"do": "turn-stem", "quarters": 4}}),
    );
    ask(&mut bench, json!({"pass": 1200}));
    let now = ask(&mut bench, json!({"do": {"do": "leave"}}))["now"].clone();
    let debrief = ask(&mut bench, json!("debrief"))["debrief"].clone();
    let sheet = flat(&now["sheet"]);
    assert!(sheet.contains(debrief["troubles"][0]["name"].as_str().expect("a name")));
    let mut lost = 0;
    for score in debrief["scores"].as_array().expect("a list") {
        for one in score["lost"].as_array().expect("a list") {
            assert!(sheet.contains(one["reason"].as_str().expect("a reason")));
            lost += 1;
        }
    }
    assert!(lost > 0);
    assert_eq!(now["past"]["points"], debrief["points"]);
    let mut folds = Vec::new();
    with(&now["sheet"], "data-fold", &mut folds);
    assert_eq!(folds.len(), 5);
    let mut drawn = Vec::new();
    with(&now["sheet"], "d", &mut drawn);
    assert_eq!(drawn.len(), 8);
    for (panel, fold) in folds.iter().take(4).enumerate() {
        let rows = fold[3][3].as_array().expect("rows").iter().skip(2);
        for (column, line) in [(4, 0), (3, 1)] {
            let cells = rows
                .clone()
                .map(|row| row[column][2].as_str().unwrap_or_default());
            let numbers = cells.filter(|cell| cell.parse::<f64>().is_ok()).count();
            let points = drawn[2 * panel + line][1]["d"].as_str().expect("a line");
            let points = points.matches(['M', 'L']).count();
            assert_eq!(numbers, points, "panel {panel}, column {column}");
        }
    }
}

/// Other units change what is shown and nothing of the plant.
#[test]
fn units_are_those_that_are_asked_for() {
    let mut bench = Bench::default();
    ask(&mut bench, json!({"begin": "bench=41"}));
    let usual = ask(&mut bench, json!("show"));
    let metric = json!({"bench": "show", "units": {"pressure": "kPa", "temperature": "°C"}});
    let said = bench.answer(&metric.to_string()).expect("its own");
    let said: Value = serde_json::from_str(&said).expect("JSON");
    assert!(flat(&usual["now"]["sheet"]).contains("°F"));
    let sheet = flat(&said["now"]["sheet"]);
    assert!(flat(&usual["now"]["sheet"]).contains(" °F, never under"));
    assert!(sheet.contains(" K, never under"), "{sheet}");
    assert_eq!(usual["now"]["attempt"], said["now"]["attempt"]);
}

#[test]
fn the_fields_that_a_person_fills_make_an_address() {
    let mut bench = Bench::default();
    let fields = json!({"number": " 12 ", "tons": "7.5", "refrigerant": "", "metering": "orifice",
        "difficulty": "alone", "other": "x"});
    let said = ask(&mut bench, json!({"begin-asked": fields}));
    let address = "bench=12;tons=7.5;metering=orifice;difficulty=alone";
    assert_eq!(said["now"]["address"], address);
    assert_eq!(
        error(&mut bench, json!({"begin-asked": {"number": "1,5"}})),
        "case"
    );
}

/// A plant that a switch stops while time goes by tells so at once, with what can be done then.
#[test]
fn a_stop_while_time_goes_by_is_seen() {
    let connect = json!({"do": {"do": "connect-gauges", "place": "service-valve"}});
    let weigh = |action: &str| json!({"do": {"do": action, "ounces": 8.0}});
    let stopped = (0..40).find_map(|seed| {
        let mut bench = Bench::default();
        ask(&mut bench, json!({"begin": format!("bench={seed}")}));
        ask(&mut bench, connect.clone());
        (0..20).find_map(|_| {
            ask(&mut bench, weigh("add-charge"));
            let said = ask(&mut bench, json!({"pass": 300}));
            said.get("now")
                .filter(|now| now["seen"] != json!([]))
                .cloned()
        })
    });
    let stopped = stopped.expect("forty plants overfilled, and none was stopped");
    assert!(
        stopped["seen"][0]
            .as_str()
            .is_some_and(|it| it.contains("switch has stopped"))
    );
    assert!(stopped["sheet"].to_string().contains("start-again"));
}

/// Names of what is wrong, and of everything that only the debrief tells, in all that crosses first.
#[test]
fn nothing_hidden_crosses_before_the_case_is_over() {
    for lesson in lessons() {
        let case = Case::of_lesson(lesson).expect("a lesson of the house");
        let address = case.address();
        let mut good = Session::begin(case);
        good_technician(&mut good);
        let mut bench = Bench::default();
        let mut crossed = ask(&mut bench, json!({"begin": address})).to_string();
        for step in good.steps() {
            // The call is the person's own word.
            if !matches!(step.action, Action::Call { .. } | Action::Leave) {
                crossed += &ask(&mut bench, json!({"do": step.action})).to_string();
                crossed += &ask(&mut bench, json!({"pass": 60})).to_string();
            }
        }
        for trouble in &lesson.case.troubles {
            let key = trouble.way.key();
            assert!(!crossed.contains(&format!("\"{key}\"")), "{key} crossed");
        }
        for word in [
            "\"troubles\"",
            "\"right\"",
            "\"good_path\"",
            "\"samples\"",
            &lesson.debrief,
        ] {
            assert!(!crossed.contains(word), "{word} crossed");
        }
        ask(&mut bench, json!({"do": {"do": "leave"}}));
        let told = ask(&mut bench, json!("debrief"));
        assert!(
            told["debrief"]["troubles"]
                .to_string()
                .contains(lesson.case.troubles[0].way.key())
        );
    }
}

#[test]
fn the_debrief_is_that_of_the_same_script() {
    let mut bench = Bench::default();
    ask(&mut bench, json!({"begin": "bench=7"}));
    ask(&mut bench, json!({"pass": 90}));
    ask(&mut bench, json!({"do": {"do": "look", "spot": "filter"}}));
    ask(&mut bench, json!({"do": {"do": "leave"}}));
    let script = "{\"at_s\": 90, \"do\": \"look\", \"spot\": \"filter\"}\n";
    let core = run_script("bench=7", script).expect("a good script");
    let told = ask(&mut bench, json!("debrief"));
    assert_eq!(told["debrief"], serde_json::to_value(core).expect("plain"));
}

#[test]
fn every_lesson_is_offered_and_its_address_leads_to_it() {
    let mut bench = Bench::default();
    let sheet = ask(&mut bench, json!({"offers": {"number": 5}}))["sheet"].clone();
    let mut asking = Vec::new();
    with(&sheet, "data-ask", &mut asking);
    let mut offered = asking.iter().filter_map(|it| {
        let wish: Value = serde_json::from_str(it[1]["data-ask"].as_str()?).ok()?;
        wish.get("begin").cloned()
    });
    for lesson in lessons() {
        let address = offered.next().expect("as many as there are lessons");
        let said = ask(&mut bench, json!({"begin": address}));
        assert_eq!(said["now"]["address"], address);
        assert!(flat(&said["now"]["sheet"]).contains(&lesson.task));
        assert!(flat(&sheet).contains(&lesson.idea));
    }
    assert_eq!(offered.next(), None);
    assert!(!flat(&sheet).contains("Your attempts"));
    // With attempts that were kept, progress stands there.
    let now = ask(&mut bench, json!({"do": {"do": "leave"}}))["now"].clone();
    let past = json!([now["past"], {"of": "another form"}, now["past"]]);
    let sheet = ask(&mut bench, json!({"offers": {"past": past, "number": 5}}))["sheet"].clone();
    let name = now["past"]["causes"][0].as_str().expect("a name");
    assert!(flat(&sheet).contains(&format!("{name} 2 0 ")));
    assert!(flat(&sheet).contains("cannot read: 1."));
}
