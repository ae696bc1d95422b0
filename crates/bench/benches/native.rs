//! Times the work on this machine: `cargo bench --package evenfeed-bench`.

use criterion::Criterion;
use evenfeed_bench::WORK;

fn main() {
    let mut bench = Criterion::default().configure_from_args();
    for work in WORK {
        bench.bench_function(work.name, |timer| {
            let mut piece = (work.ready)();
            timer.iter(&mut piece);
        });
    }
    bench.final_summary();
}
