//! What is rarely done, and must be as easy to read on a phone as the rest: a job from another workshop, and content
//! taken out for good.

use std::process::Command;
use std::sync::Arc;

use asfound_checks::program;

use crate::browser::Browser;
use crate::house::{House, run};
use crate::look;

/// Asserts that the page that is shown can be read by everybody on a phone.
async fn reads_well(browser: &Browser, name: &str) {
    let faults = look::one_page(browser, 360, name).await;
    assert!(faults.is_empty(), "{name}:\n{}", faults.join("\n"));
}

pub(crate) async fn a_job_from_elsewhere_is_taken_in_and_gone_on_from(
    house: Arc<House>,
    browser: Arc<Browser>,
) {
    let far = house.file("far", b"").with_extension("workshop");
    let at_far = |words: &[&str]| run(Command::new(program()).arg("--in").arg(&far).args(words));
    at_far(&["start", "A bench far away"]);
    let number =
        at_far(&["open", "Parlour guitar with a coil added"]).split_whitespace().nth(1).map(str::to_owned);
    let number = number.expect("`open` says the job's number");
    at_far(&["say", &number, "part added coil, coil, sound hole"]);
    at_far(&["say", &number, "added 6k31 21C"]);
    let lines = house.file("far.jsonl", at_far(&["lines", &number]).as_bytes());

    browser.size(360, 800).await;
    browser.go("/").await;
    browser.press("//summary[contains(.,'Take in a job')]").await;
    browser.keys("//input[@id='lines']", &lines.display().to_string()).await;
    browser.press_button("Take it in").await;
    browser.see("//main//p[contains(.,'taken in')]").await;
    reads_well(&browser, "taken-in-360-light").await;
    browser.press("//main//a[contains(.,'To the job')]").await;
    browser.see("//p[contains(.,'only read here')]").await;
    reads_well(&browser, "elsewhere-360-light").await;
    let entry_lines = browser.look("return document.querySelectorAll('#line').length").await;
    assert_eq!(entry_lines.as_u64(), Some(0), "nothing can be said in a job from elsewhere");

    browser.size(360, 800).await;
    browser
        .write("//form[contains(@action,'/go-on')]//input[@id='title']", "Parlour guitar, gone on with")
        .await;
    browser.press("//form[contains(@action,'/go-on')]//button").await;
    browser.see("//h1[contains(.,'gone on with')]").await;
    browser.see("//input[@id='line']").await;
}

pub(crate) async fn content_is_taken_out_for_good(_: Arc<House>, browser: Arc<Browser>) {
    let number = crate::flows::open_job(&browser, "A name that must go").await;
    let seq = crate::flows::say(&browser, "note the owner is Perpetua Quince").await;
    browser.size(360, 800).await;
    browser.go(&format!("/job/{number}/entry/{seq}")).await;
    browser.press("//summary[contains(.,'Take its content out')]").await;
    browser.write("//input[@id='who']", "the owner").await;
    browser.write("//input[@id='ground']", "asked to be forgotten").await;
    browser.press_button("Take it out for good").await;
    browser.see("//h2[contains(.,'is withheld')]").await;
    reads_well(&browser, "withheld-360-light").await;
    browser.press("//main//a[contains(.,'To the entry')]").await;
    reads_well(&browser, "withheld-entry-360-light").await;
    for page in ["piece", "parts", "readings", "wiring", "history"] {
        browser.go(&format!("/job/{number}/{page}")).await;
        assert!(!browser.text().await.contains("Perpetua"), "{page} still tells the name");
    }
    browser.go("/find?words=Perpetua").await;
    assert!(!browser.text().await.contains("Quince"), "the search still tells the name");
}
