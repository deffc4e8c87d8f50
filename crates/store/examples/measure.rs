//! Measuring.
#[path = "../tests/common/mod.rs"]
mod common;
use asfound_store::Store;
use common::*;
use std::time::Instant;
fn main() {
    let jobs: usize = std::env::args().nth(1).unwrap().parse().unwrap();
    let each: usize = std::env::args().nth(2).unwrap().parse().unwrap();
    let home = tempfile::tempdir_in("/tmp").unwrap();
    let place = home.path().join("w");
    let t = Instant::now();
    let store = Store::start(&place).unwrap();
    println!("start {:?}", t.elapsed());
    let t = Instant::now();
    for n in 0..jobs {
        store
            .append_many(|b| {
                b.append(job(&format!("{n}"), "rewire"), &format!("job-{n}"), None)?;
                for m in 1..each {
                    b.append(
                        note(&format!(
                            "dust and wax and cloth number {m} of job {n} under the guard, brittle"
                        )),
                        &format!("job-{n}"),
                        None,
                    )?;
                }
                Ok(())
            })
            .unwrap();
    }
    println!("fill {jobs}x{each} {:?}", t.elapsed());
    drop(store);
    for _ in 0..3 {
        let t = Instant::now();
        let store = Store::open(&place).unwrap();
        let a = t.elapsed();
        let n = store.chains().unwrap().len();
        println!("open {a:?}, with list of {n} chains {:?}", t.elapsed());
    }
    let store = Store::open(&place).unwrap();
    let t = Instant::now();
    for n in 0..200 {
        store.append(note(&format!("durable {n}")), "job-1", Some(&n.to_string())).unwrap();
    }
    println!("200 durable appends {:?}", t.elapsed());
    let t = Instant::now();
    store.job("job-0").unwrap();
    println!("job cold {:?}", t.elapsed());
    let t = Instant::now();
    store.job("job-0").unwrap();
    println!("job warm {:?}", t.elapsed());
    let t = Instant::now();
    let f = store.search("wax guard", 20).unwrap().len();
    println!("search common {f} {:?}", t.elapsed());
    let t = Instant::now();
    let f = store.search("durable 17", 20).unwrap().len();
    println!("search rare {f} {:?}", t.elapsed());
    let of = store.entries("job-0").unwrap()[1].cite();
    let t = Instant::now();
    store.withhold(&of, withheld(&of), "job-0", None).unwrap();
    println!("withhold {:?}", t.elapsed());
    let t = Instant::now();
    assert!(store.verify().unwrap().is_whole());
    println!("verify {:?}", t.elapsed());
    let t = Instant::now();
    store.copy_to(&home.path().join("c")).unwrap();
    println!("copy {:?}", t.elapsed());
    println!("file {} MB", std::fs::metadata(place.join("workshop.sqlite")).unwrap().len() / 1_000_000);
}
