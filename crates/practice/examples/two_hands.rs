//! Prints how the two scripted technicians fare over seeded cases, and every case that the good one
//! did not find: `two_hands [first] [count] [guided|sparing|alone]`.

use practice::{Case, Debrief, Difficulty, Filter, Session, debrief, hasty_technician};

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let number = |place: usize, usual| {
        let word = words.get(place);
        word.and_then(|it| it.parse().ok()).unwrap_or(usual)
    };
    let (first, count) = (number(0, 0_u64), number(1, 200_u64));
    let asked = Difficulty::ALL
        .into_iter()
        .find(|it| words.get(2).is_some_and(|word| word == it.key()));
    let filter = Filter {
        difficulty: asked.unwrap_or_default(),
        ..Filter::default()
    };
    let mut all: Vec<Debrief> = Vec::new();
    for seed in first..first.saturating_add(count) {
        match Case::draw(seed, &filter) {
            Ok(case) => {
                let mut hasty = Session::begin(case);
                hasty_technician(&mut hasty);
                all.extend(debrief(&hasty));
            }
            Err(error) => println!("{seed}: {error}"),
        }
    }
    for it in all.iter().filter(|it| !it.good_path.found) {
        let ways: Vec<String> = it
            .troubles
            .iter()
            .map(|truth| format!("{} {:.2}", truth.way, truth.size))
            .collect();
        let first = it.good_path.samples.first();
        println!(
            "{}, {} {}: {} called {}; found at superheat {:?} of {} to {}, subcooling {:?}",
            it.address,
            it.nameplate.refrigerant.name(),
            it.nameplate.metering.key(),
            ways.join(" and "),
            it.good_path.called.join(" and "),
            first.and_then(|at| at.superheat_f),
            it.nameplate.superheat_low_f,
            it.nameplate.superheat_high_f,
            first.and_then(|at| at.subcooling_f),
        );
        let did: Vec<&str> = it.good_path.marks.iter().map(|mark| mark.key).collect();
        println!("   {}", did.join(" "));
    }
    let good = all.iter().filter(|it| it.good_path.found).count();
    let hasty = all.iter().filter(|it| it.path.found).count();
    println!("of {}: good {good}, hasty {hasty}", all.len());
}
