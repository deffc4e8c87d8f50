//! The pages in a real browser: the program as it is built serves the demo workshop to Chromium without a window.
//!
//! This file is its own test harness, because one server and one driver serve all tests and must end with them. Names
//! given on the command line choose tests, as with any other test program.

mod browser;
mod flows;
mod house;
mod look;
mod pictures;
mod plain;
mod rarely;
mod strangers;
mod tracing;

use std::pin::Pin;
use std::process::ExitCode;
use std::sync::Arc;

use crate::browser::Browser;
use crate::house::House;

/// What a test does with a window of its own.
type Test = fn(Arc<House>, Arc<Browser>) -> Pin<Box<dyn Future<Output = ()> + Send>>;

macro_rules! tests {
    ($($test:path),* $(,)?) => {
        [$((stringify!($test), (|house, browser| Box::pin($test(house, browser))) as Test)),*]
    };
}

async fn pages_on_a_phone_in_light(house: Arc<House>, browser: Arc<Browser>) {
    look::at_all_pages(house, browser, 360, "light").await;
}

async fn pages_on_a_phone_in_dark(house: Arc<House>, browser: Arc<Browser>) {
    look::at_all_pages(house, browser, 360, "dark").await;
}

async fn pages_on_a_desk_in_light(house: Arc<House>, browser: Arc<Browser>) {
    look::at_all_pages(house, browser, 1280, "light").await;
}

async fn pages_on_a_desk_in_dark(house: Arc<House>, browser: Arc<Browser>) {
    look::at_all_pages(house, browser, 1280, "dark").await;
}

#[allow(clippy::print_stdout, reason = "a test harness tells how the tests went")]
fn main() -> ExitCode {
    let tests = tests![
        pages_on_a_phone_in_light,
        pages_on_a_phone_in_dark,
        pages_on_a_desk_in_light,
        pages_on_a_desk_in_dark,
        flows::a_reading_is_understood_as_it_is_typed,
        flows::enter_keeps_what_was_read_by_the_button,
        flows::a_reading_is_kept_without_the_script,
        flows::a_line_that_cannot_be_read_is_kept_as_a_note,
        flows::what_is_corrected_or_struck_out_stays,
        flows::a_form_sent_twice_keeps_once,
        flows::photographs_and_other_files_are_kept,
        flows::sweeps_and_recordings_are_kept,
        flows::a_step_is_taken_up_and_done,
        flows::one_touch_hides_money,
        flows::a_job_opens_where_the_hand_left_off,
        flows::hostile_words_stay_words,
        rarely::a_job_from_elsewhere_is_taken_in_and_gone_on_from,
        rarely::content_is_taken_out_for_good,
        strangers::strangers_are_refused,
        tracing::a_circuit_is_traced_by_pressing_on_a_desk,
        tracing::a_circuit_is_traced_by_pressing_without_the_script,
        tracing::a_photograph_reads_well,
        tracing::fields_are_read_as_they_are_filled,
    ];
    let chosen: Vec<String> =
        std::env::args().skip(1).filter(|argument| !argument.starts_with('-')).collect();
    let wanted = tests
        .into_iter()
        .filter(|(name, _)| chosen.is_empty() || chosen.iter().any(|part| name.contains(part)));
    let house = Arc::new(House::open());
    let runtime = tokio::runtime::Runtime::new().expect("threads for the tests");
    let broken = runtime.block_on(run_two_at_a_time(house, wanted.collect()));
    if broken.is_empty() {
        println!("\nall pages hold");
        return ExitCode::SUCCESS;
    }
    println!("\nbroken: {}", broken.join(", "));
    ExitCode::FAILURE
}

/// Runs the tests, each in a window of its own, and answers the names of those that broke.
#[allow(clippy::print_stdout, reason = "a test harness tells how the tests went")]
async fn run_two_at_a_time(house: Arc<House>, tests: Vec<(&'static str, Test)>) -> Vec<&'static str> {
    let seats = Arc::new(tokio::sync::Semaphore::new(2));
    let running: Vec<_> = tests
        .into_iter()
        .map(|(name, test)| (name, tokio::spawn(one(Arc::clone(&house), Arc::clone(&seats), name, test))))
        .collect();
    let mut broken = Vec::new();
    for (name, task) in running {
        let done = task.await.unwrap_or(false);
        println!("test {name} ... {}", if done { "ok" } else { "FAILED" });
        if !done {
            broken.push(name);
        }
    }
    broken
}

/// Runs one test. Its window is closed whether it held or broke.
async fn one(house: Arc<House>, seats: Arc<tokio::sync::Semaphore>, name: &'static str, test: Test) -> bool {
    let _seat = seats.acquire().await.expect("the seats stay");
    let browser = Arc::new(Browser::open(&house).await);
    let done = tokio::spawn(test(house, Arc::clone(&browser))).await.is_ok();
    if !done {
        browser.picture(&format!("broken-{name}")).await;
    }
    if let Some(browser) = Arc::into_inner(browser) {
        browser.close().await;
    }
    done
}
