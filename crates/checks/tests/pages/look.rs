//! Every page, light and dark, on a phone and on a desk: can everybody read and press it, and does nothing leave the
//! machine?

use std::sync::{Arc, LazyLock};

use serde_json::{Value, json};

use crate::browser::Browser;
use crate::house::House;

/// Answers faults of layout: what is cut off, lies over another, or is too small to press.
const LAYOUT: &str = include_str!("layout.js");

/// Runs the accessibility audit with the success criteria of WCAG 2.2, levels A and AA.
const AUDIT: &str = r#"
const done = arguments[arguments.length - 1];
const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"];
axe.run(document, { runOnly: { type: "tag", values: tags }, resultTypes: ["violations", "passes"] }).then(
  (result) => done({
    contrast: result.passes.some((rule) => rule.id === "color-contrast"),
    faults: result.violations.flatMap((rule) =>
      rule.nodes.map((node) => `${rule.id}: ${node.html.slice(0, 160)} ${node.failureSummary.replaceAll("\n", " ")}`)),
  }),
  (error) => done({ contrast: true, faults: [String(error)] }),
);
"#;

/// Hands over the page's height once its faces and pictures are there.
const SETTLED: &str = r#"
const done = arguments[arguments.length - 1];
const pictures = [...document.images].map((image) => {
  image.loading = "eager";
  return image.decode().catch(() => {});
});
const faces = [...document.fonts].map((face) => face.load().catch(() => {}));
Promise.all([...pictures, ...faces]).then(() => document.fonts.ready).then(() =>
  requestAnimationFrame(() => requestAnimationFrame(() => done(document.documentElement.scrollHeight))));
"#;

/// The text of the audit's own script, which `./check` fetches and which is never kept with the source.
static AUDIT_SCRIPT: LazyLock<String> = LazyLock::new(|| {
    let path = std::env::var("ASFOUND_AUDIT").unwrap_or_else(|_| {
        panic!(
            "The accessibility audit is not named. Fetch it (mkdir -p target/check && cd target/check && npm pack \
             axe-core@4.14.1 && tar -xzf axe-core-4.14.1.tgz package/axe.min.js) and set ASFOUND_AUDIT to the whole path \
             of target/check/package/axe.min.js, or run ./check, which does both."
        )
    });
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("ASFOUND_AUDIT names {path}: {error}"))
});

/// A page by its name among the pictures, and its path.
pub(crate) fn pages(house: &House) -> Vec<(String, String)> {
    let mut pages = vec![
        ("bench".to_owned(), "/".to_owned()),
        ("entry".to_owned(), "/job/26-014/entry/40".to_owned()),
        ("find".to_owned(), "/find?words=solder".to_owned()),
        ("find-nothing".to_owned(), "/find?words=xylophone".to_owned()),
        ("not-found".to_owned(), "/no/such/page".to_owned()),
        ("pocket-sheet".to_owned(), "/job/26-014/pocket-sheet".to_owned()),
        ("drawing".to_owned(), "/job/26-014/drawing?seen=front&hand=left".to_owned()),
        ("line-understood".to_owned(), "/job/26-014/readings?line=neck+coil+6k31+21C".to_owned()),
        ("line-not-read".to_owned(), "/job/26-014/readings?line=neck+coil+6q31".to_owned()),
    ];
    for (job, number) in [("bass", "26-014"), ("amplifier", "26-015"), ("empty", house.empty_job.as_str())] {
        for page in [
            "piece",
            "viewing",
            "parts",
            "readings",
            "wiring",
            "meter-check",
            "faults",
            "rewiring",
            "dates",
            "originality",
            "plan",
            "history",
        ] {
            pages.push((format!("{job}-{page}"), format!("/job/{number}/{page}")));
        }
    }
    pages
}

/// Looks at all pages at one width under one scheme, and tells all that is wrong at once.
pub(crate) async fn at_all_pages(house: Arc<House>, browser: Arc<Browser>, width: u32, scheme: &'static str) {
    let mut faults = Vec::new();
    browser.scheme(scheme);
    for (name, path) in pages(&house) {
        browser.size(width, 800).await;
        browser.go(&path).await;
        let name = format!("{name}-{width}-{scheme}");
        let found = one_page(&browser, width, &name).await;
        faults.extend(found.into_iter().map(|fault| format!("{name}: {fault}")));
    }
    faults.extend(console(&browser));
    faults.extend(requests(&house, &browser));
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

/// One page, as it comes and with everything unfolded.
pub(crate) async fn one_page(browser: &Browser, width: u32, name: &str) -> Vec<String> {
    let mut faults = Vec::new();
    settle(browser, width).await;
    browser.picture(name).await;
    faults.extend(strings(&browser.look(LAYOUT).await));
    let folded = "const all = [...document.querySelectorAll('details')]; all.forEach((one) => one.open = true); return all.length";
    if browser.look(folded).await.as_u64() > Some(0) {
        settle(browser, width).await;
        browser.picture(&format!("{name}-unfolded")).await;
        faults.extend(
            strings(&browser.look(LAYOUT).await).into_iter().map(|fault| format!("unfolded: {fault}")),
        );
    }
    browser.look(&AUDIT_SCRIPT).await;
    let audit = browser.look_long(AUDIT, Vec::new()).await;
    faults.extend(strings(&audit["faults"]));
    if audit["contrast"] != json!(true) {
        faults.push("the audit found no text whose contrast it could judge".to_owned());
    }
    faults
}

/// Makes the window as high as the page, so that all of it is drawn.
async fn settle(browser: &Browser, width: u32) {
    let high = browser.look_long(SETTLED, Vec::new()).await.as_u64().unwrap_or_default();
    browser.size(width, u32::try_from(high.clamp(600, 12_000)).unwrap_or(600)).await;
    browser.look_long(SETTLED, Vec::new()).await;
}

fn strings(value: &Value) -> Vec<String> {
    value.as_array().into_iter().flatten().filter_map(|item| item.as_str().map(str::to_owned)).collect()
}

/// What the console complained of. A page that is not there is told so by its status, which the console repeats.
fn console(browser: &Browser) -> Vec<String> {
    let lines = browser.log("browser");
    let told = lines.iter().filter_map(|line| line["message"].as_str());
    told.filter(|message| !message.contains("/no/such/page"))
        .map(|message| format!("console: {message}"))
        .collect()
}

/// Requests that left the machine's own address.
fn requests(house: &House, browser: &Browser) -> Vec<String> {
    let own = format!("http://127.0.0.1:{}/", house.port);
    let mut asked = Vec::new();
    for line in browser.log("performance") {
        let message: Value =
            serde_json::from_str(line["message"].as_str().unwrap_or_default()).unwrap_or_default();
        if message["message"]["method"] == "Network.requestWillBeSent" {
            asked
                .push(message["message"]["params"]["request"]["url"].as_str().unwrap_or_default().to_owned());
        }
    }
    assert!(!asked.is_empty(), "the browser's list of requests is empty: it was not kept");
    // A new window draws its own empty page from what the browser carries (`chrome:`); that is no request.
    let within = [own.as_str(), "data:", "chrome:", "about:"];
    let away = asked.into_iter().filter(|url| !within.iter().any(|start| url.starts_with(start)));
    away.map(|url| format!("a request left for {url}")).collect()
}
