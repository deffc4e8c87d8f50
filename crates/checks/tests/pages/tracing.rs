//! A circuit is traced by pressing on its photograph: lugs marked one after the other, then joined two by two.

use std::sync::Arc;

use asfound_checks::number_after;

use crate::browser::Browser;
use crate::flows::open_job;
use crate::house::House;
use crate::{look, pictures, plain};

/// The parts of the circuit, and where their lugs lie on the photograph, in per cent.
const PARTS: [&str; 4] =
    ["coil neck 7k2", "switch lever five-way lever", "pot volume 500k audio", "jack jack"];

/// Twelve joins, between lugs of which some lie nearer to each other on a phone than a thumb is wide.
const JOINS: [(&str, &str); 12] = [
    ("neck.hot", "lever.a1"),
    ("lever.a1", "lever.a2"),
    ("lever.a2", "lever.a3"),
    ("lever.a3", "lever.b3"),
    ("lever.b1", "lever.b2"),
    ("lever.b2", "lever.b3"),
    ("lever.a0", "volume.3"),
    ("lever.b0", "volume.3"),
    ("volume.2", "jack.tip"),
    ("volume.1", "jack.sleeve"),
    ("volume.1", "volume.case"),
    ("neck.ground", "volume.1"),
];

/// A job with a traced circuit's parts and one photograph; answers its number and the photograph's entry.
async fn job_with_a_photograph(house: &House, browser: &Browser, title: &str) -> (String, u16) {
    let number = open_job(browser, title).await;
    for (at, part) in PARTS.iter().enumerate() {
        let draft = format!("{number}-part-{at}");
        let fields = [("line", *part), ("page", "wiring"), ("draft", draft.as_str())];
        let kept = plain::form(house.port, &format!("/job/{number}/say"), &fields);
        assert_eq!(kept.status, 303, "{part}: {}", kept.body);
    }
    let picture = house.file(&format!("cavity-{number}.png"), &pictures::png(640, 480));
    browser.go(&format!("/job/{number}/wiring")).await;
    browser.press("//summary[normalize-space()='Keep a photograph']").await;
    browser.write("//input[@id='caption']", "the open cavity").await;
    browser.keys("//input[@id='file']", &picture.display().to_string()).await;
    browser.press("//form[contains(@action,'/photograph')]//button").await;
    browser.press("//a[normalize-space()='Photograph 1']").await;
    let seq = number_after(&format!("{}/", browser.path().await), "/photograph/");
    (number, seq)
}

/// Presses on the picture at per cents of it, brought into view as a hand would.
async fn press_at(browser: &Browser, across: f64, down: f64) {
    let picture = "const shown = [...document.querySelectorAll('.marked input[type=image]')].find((one) => one.checkVisibility());
        const pane = shown.closest('.pane');
        pane.scrollLeft = shown.width * ACROSS / 100 - pane.clientWidth / 2;
        pane.scrollTop = shown.height * DOWN / 100 - pane.clientHeight / 2;
        pane.scrollIntoView({ block: 'center' });
        const box = shown.getBoundingClientRect();
        return [Math.round(box.left + box.width * ACROSS / 100), Math.round(box.top + box.height * DOWN / 100)];";
    let script = picture.replace("ACROSS", &across.to_string()).replace("DOWN", &down.to_string());
    browser.see("//input[@type='image']").await;
    let at = browser.look(&script).await;
    let place = |axis: usize| at[axis].as_i64().unwrap_or_else(|| panic!("no picture to press: {at}"));
    browser.press_place(place(0), place(1));
}

fn places() -> Vec<(String, f64, f64)> {
    let mut lugs: Vec<&str> = Vec::new();
    for (from, to) in JOINS {
        lugs.extend([from, to]);
    }
    lugs.sort_unstable();
    lugs.dedup();
    let place = |(at, lug): (usize, &str)| {
        (lug.to_owned(), 8.0 + 9.0 * (at % 6) as f64, 20.0 + 30.0 * (at / 6) as f64)
    };
    lugs.into_iter().enumerate().map(place).collect()
}

/// Marks every lug, traces twelve joins, looks near; with or without the script, on a phone or on a desk.
async fn trace_by_pressing(house: Arc<House>, browser: Arc<Browser>, width: u32, title: &str) {
    browser.size(width, 860).await;
    let (number, seq) = job_with_a_photograph(&house, &browser, title).await;
    browser.press("//a[normalize-space()='Mark lugs']").await;
    for (lug, across, down) in places() {
        browser.write("//input[@id='of']", &lug).await;
        press_at(&browser, across, down).await;
        browser.see(&format!("//ul[contains(@class,'marks')]//a[normalize-space()='{lug}']")).await;
    }
    let here = format!("/job/{number}/photograph/{seq}");
    browser.press("//a[normalize-space()='Look and join']").await;
    browser.see("//a[normalize-space()='Look and join'][@aria-current]").await;
    for (at, (from, to)) in JOINS.into_iter().enumerate() {
        for (lug, sign) in [(from, "from"), (to, "to")] {
            let (_, across, down) =
                places().into_iter().find(|(name, ..)| name == lug).expect("it is marked");
            press_at(&browser, across + 0.8, down - 0.8).await;
            browser
                .see(&format!("//form[contains(@class,'compose')]//input[@id='{sign}'][@value='{lug}']"))
                .await;
        }
        browser.write("//input[@id='said']", &format!("0.{}", at % 9 + 1)).await;
        browser.press_button("Read the join").await;
        browser.press("//form[contains(@class,'keep')]//button").await;
        browser.see("//p[@role='status'][contains(.,'Kept as entry')]").await;
        if at == 5 {
            browser.press("//nav//a[normalize-space()='2×']").await;
            browser.see("//nav//a[normalize-space()='2×'][@aria-current]").await;
        }
    }
    browser.go(&format!("{here}?zoom=4&from=lever.a1")).await;
    browser.see("//section[contains(@class,'beside')]//*[contains(.,'neck hot — lever a1')]").await;
    let lines = plain::ask(house.port, "GET", &format!("/job/{number}/lines"), &[], "").body;
    for (at, (from, to)) in JOINS.into_iter().enumerate() {
        let line = format!("join {from} {to} metered 0.{}", at % 9 + 1);
        assert!(lines.contains(&line), "not traced: {line}");
    }
    browser.go(&format!("/job/{number}/wiring")).await;
    browser.press("//small/a[normalize-space()='on the photograph']").await;
    browser.see("//nav//a[normalize-space()='2×'][@aria-current]").await;
}

/// With the script, on a desk.
pub(crate) async fn a_circuit_is_traced_by_pressing_on_a_desk(house: Arc<House>, browser: Arc<Browser>) {
    trace_by_pressing(house, browser, 1280, "Pressed on a desk").await;
}

/// On a phone with scripts switched off.
pub(crate) async fn a_circuit_is_traced_by_pressing_without_the_script(
    house: Arc<House>,
    browser: Arc<Browser>,
) {
    browser.without_script();
    trace_by_pressing(house, browser, 390, "Pressed on a phone").await;
}

/// The pages of a photograph can be read and pressed by everybody, near and far, on a phone and on a desk.
pub(crate) async fn a_photograph_reads_well(house: Arc<House>, browser: Arc<Browser>) {
    browser.size(1280, 860).await;
    let (number, seq) = job_with_a_photograph(&house, &browser, "Looked at").await;
    for (at, (lug, across, down)) in places().iter().enumerate() {
        let line = format!("mark {lug} on photo 1 at {across} % {down} % from the back");
        let draft = format!("{number}-mark-{at}");
        let fields = [("line", line.as_str()), ("page", "wiring"), ("draft", draft.as_str())];
        assert_eq!(plain::form(house.port, &format!("/job/{number}/say"), &fields).status, 303, "{line}");
    }
    let here = format!("/job/{number}/photograph/{seq}");
    let mut faults = Vec::new();
    for width in [390, 1280] {
        for scheme in ["light", "dark"] {
            browser.scheme(scheme);
            for (name, path) in [
                ("looking", format!("{here}?from=lever.a1")),
                ("joining", format!("{here}?zoom=2&from=neck.hot&to=lever.a1")),
                ("marking", format!("{here}?doing=marking&zoom=4&from=volume.1")),
                ("missed", format!("{here}?missed=yes")),
                (
                    "fields",
                    format!(
                        "/job/{number}/wiring?tracing=join&from=neck.hot&to=lever.a1&how=metered&said=0.4"
                    ),
                ),
            ] {
                browser.size(width, 860).await;
                browser.go(&path).await;
                let name = format!("photograph-{name}-{width}-{scheme}");
                let found = look::one_page(&browser, width, &name).await;
                faults.extend(found.into_iter().map(|fault| format!("{name}: {fault}")));
            }
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

/// Enter keeps what the fields say, as it was understood while they were filled.
pub(crate) async fn fields_are_read_as_they_are_filled(house: Arc<House>, browser: Arc<Browser>) {
    let (number, _) = job_with_a_photograph(&house, &browser, "Filled by hand").await;
    browser.go(&format!("/job/{number}/wiring")).await;
    browser.press("//summary[normalize-space()='Join two lugs']").await;
    browser.keys("//input[@id='from']", "neck.hot").await;
    browser.keys("//input[@id='to']", "lever.a1").await;
    browser.keys("//input[@id='said']", "0.4").await;
    browser.see("//*[@id='heard'][contains(.,'neck hot — lever a1, metered, 0.4')]").await;
    browser.see("//*[@id='heard'][contains(@data-said,'said=0.4')]").await;
    browser.keys("//input[@id='said']", "\u{e007}").await;
    browser.see("//p[@role='status'][contains(.,'Kept as entry')]").await;
    browser.see("//input[@id='from'][@value='']").await;
}
