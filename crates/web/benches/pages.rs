//! How quick the pages are over a workshop of a thousand jobs with fifty entries each, kept as a person keeps them.
//!
//! `cargo bench -p asfound-web`. The first lines tell what a start costs, from opening the folder to the first page, and
//! the slowest hundredth of requests; the table below is for comparing one release with another.

use std::path::Path;
use std::sync::{Arc, OnceLock};
use std::time::{Duration, Instant};

use asfound_acts::{NewJob, Workshop};
use asfound_record::{Draft, Entry};
use asfound_store::{Store, StoreError};
use asfound_study::entry_line::hear;
use axum::Router;
use axum::body::Body;
use axum::http::{Request, header};
use divan::Bencher;
use tempfile::TempDir;
use tower::ServiceExt;

/// How many jobs there are: few where the bench is only tried and nothing is measured.
fn jobs() -> usize {
    if is_measured() { 1000 } else { 10 }
}

fn is_measured() -> bool {
    std::env::args().any(|argument| argument == "--bench")
}

const ENTRIES: usize = 50;
const PORT: u16 = 8726;
const PAGES: [&str; 6] =
    ["/", "/job/{}/piece", "/job/{}/parts", "/job/{}/readings", "/job/{}/wiring", "/job/{}/history"];

/// A traced circuit of the usual size.
const TRACE: &str = "\
coil neck 7k2 3H4 130p clockwise north
coil bridge 4k9
pot volume 500k audio
pot tone 250k audio
capacitor tone-cap 47n
jack jack
join neck.hot volume.3 metered 0.4
join bridge.hot volume.3 metered 0.4
join volume.3 tone.3 metered 0.2
join tone.2 tone-cap.a metered
join tone-cap.b volume.1 metered
join volume.2 jack.tip metered 0.4
join volume.1 jack.sleeve metered 0.4
join neck.ground volume.1 metered
join bridge.ground volume.1 metered";

/// The workshop of this run.
struct Made {
    folder: TempDir,
    numbers: Vec<String>,
}

static MADE: OnceLock<Made> = OnceLock::new();

fn made() -> &'static Made {
    MADE.get_or_init(|| {
        let folder = tempfile::tempdir().expect("a folder of its own");
        let workshop = Workshop::start(folder.path(), "A bench of my own").expect("a workshop is started");
        let numbers: Vec<String> = (0..jobs()).map(|at| open_job(&workshop, at)).collect();
        let chains = chains(&workshop);
        drop(workshop);
        let store = Store::open(folder.path()).expect("the workshop is there");
        for at_once in chains.chunks(100) {
            fill(&store, at_once).expect("the entries are kept");
        }
        Made { folder, numbers }
    })
}

fn open_job(workshop: &Workshop, at: usize) -> String {
    let title = format!("Job {at}: rewire, level, and find out what the middle position did");
    let new = NewJob { title, owner: format!("Owner {at}"), ..NewJob::default() };
    workshop.open_job(&new).expect("a job is opened")
}

fn chains(workshop: &Workshop) -> Vec<String> {
    let about = workshop.about().expect("the workshop is read");
    about.jobs.iter().map(|item| item.body.chain.clone()).collect()
}

/// The lines that a job of this size is made of.
fn lines() -> Vec<String> {
    let mut lines: Vec<String> =
        ["part neck coil, coil, neck", "part bridge coil, coil, bridge", "part volume pot, pot, plate"]
            .map(str::to_owned)
            .into();
    lines.extend(TRACE.lines().map(str::to_owned));
    let more = [
        "neck coil 6k31 21C at the joints",
        "bridge coil 4k67 20C",
        "neck coil: tape dry and brown",
        "piece: smells of damp",
    ];
    lines.extend(more.iter().cycle().take(ENTRIES - 2 - lines.len()).map(|line| (*line).to_owned()));
    lines
}

/// Says the lines in each chain, all in one transaction: a thousand jobs are made in seconds.
fn fill(store: &Store, chains: &[String]) -> Result<(), StoreError> {
    let mut job = asfound_acts::Job::default();
    let mut bodies = Vec::new();
    for (at, line) in lines().iter().enumerate() {
        let body = hear(line, &job, &[]).expect("every line is understood").body;
        let kind = body.kind().expect("a known kind").to_owned();
        let value = body.value().expect("a body");
        bodies.push((kind, value));
        let head = job.head.clone();
        let draft = draft(&bodies[at]);
        let head = if head.chain.is_empty() { asfound_record::Head::empty("hearing") } else { head };
        job.take(&Entry::make(draft, &head, [1; 32]).expect("an entry"));
    }
    store.append_many(|batch| {
        for chain in chains {
            for body in &bodies {
                batch.append(|head| Entry::make(draft(body), head, [1; 32]), chain, None)?;
            }
        }
        Ok(())
    })
}

fn draft((kind, body): &(String, serde_json::Value)) -> Draft {
    let (at, by) = ("2026-11-25T09:30:00+01:00".to_owned(), "p-1".to_owned());
    Draft { at, by, kind: kind.clone(), corrects: None, body: body.clone() }
}

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_multi_thread().worker_threads(1).build().expect("threads")
}

fn served(folder: &Path) -> Router {
    asfound_web::pages(Arc::new(Workshop::open(folder).expect("it opens")), PORT)
}

/// Asks for a page to its last byte; answers how many there were.
async fn ask(router: &Router, path: &str) -> usize {
    let host = format!("127.0.0.1:{PORT}");
    let request =
        Request::builder().uri(path).header(header::HOST, host).body(Body::empty()).expect("a request");
    let response = router.clone().oneshot(request).await.expect("an answer");
    assert!(response.status().is_success(), "{path}: {}", response.status());
    axum::body::to_bytes(response.into_body(), usize::MAX).await.expect("a body").len()
}

/// What a start costs: the very first one, which makes every card, and every later one.
fn start(name: &str) {
    let made = made();
    let begun = Instant::now();
    let router = served(made.folder.path());
    let opened = begun.elapsed();
    let bytes = runtime().block_on(ask(&router, "/"));
    tell(&format!(
        "{name}: opened in {opened:.0?}, first page of {} kB after {:.0?}",
        bytes / 1000,
        begun.elapsed()
    ));
}

/// The slowest hundredth of requests, for each page, over many jobs.
fn slowest_hundredth() {
    let made = made();
    let router = served(made.folder.path());
    runtime().block_on(async {
        for page in PAGES {
            let mut times: Vec<Duration> = Vec::new();
            for round in 0..500 {
                // Fifty jobs are on the bench at a time; the first look at each is among the times.
                let path = page.replace("{}", &made.numbers[round % 50 * 20]);
                let begun = Instant::now();
                ask(&router, &path).await;
                times.push(begun.elapsed());
            }
            times.sort_unstable();
            tell(&format!(
                "{page}: median {:.1?}, 99 of 100 within {:.1?}",
                times[times.len() / 2],
                times[times.len() * 99 / 100]
            ));
        }
    });
}

#[allow(clippy::print_stdout, reason = "a bench tells its figures")]
fn tell(line: &str) {
    println!("{line}");
}

fn main() {
    if !is_measured() {
        return divan::main();
    }
    let begun = Instant::now();
    made();
    tell(&format!("{} jobs of {ENTRIES} entries made in {:.1?}", jobs(), begun.elapsed()));
    start("the very first start");
    start("a later start");
    slowest_hundredth();
    divan::main();
}

#[divan::bench(args = PAGES, sample_count = 50)]
fn page(bencher: Bencher, page: &str) {
    let made = made();
    let (router, runtime) = (served(made.folder.path()), runtime());
    let path = page.replace("{}", &made.numbers[7]);
    runtime.block_on(ask(&router, &path));
    bencher.bench_local(|| runtime.block_on(ask(&router, &path)));
}

/// A line kept in a job while the bench lists a thousand: only that job's card is made anew.
#[divan::bench(sample_count = 30)]
fn a_line_kept_and_the_bench_shown(bencher: Bencher) {
    let made = made();
    let workshop = Arc::new(Workshop::open(made.folder.path()).expect("it opens"));
    let (router, runtime) = (asfound_web::pages(Arc::clone(&workshop), PORT), runtime());
    runtime.block_on(ask(&router, "/"));
    bencher.bench_local(|| {
        let draft = workshop.draft_id().expect("an id");
        workshop.keep_note(&made.numbers[3], "one more word", &draft).expect("kept");
        runtime.block_on(ask(&router, "/"))
    });
}
