//! What a hand does on the pages: with the script and without, right and wrong, once and twice.

use std::sync::Arc;

use asfound_checks::number_after;

use crate::browser::Browser;
use crate::house::House;
use crate::{pictures, plain};

/// The enter key, as WebDriver types it (W3C WebDriver, table of keyboard actions).
const ENTER: &str = "\u{e007}";

/// Opens a job by the form, and answers its number.
pub(crate) async fn open_job(browser: &Browser, title: &str) -> String {
    browser.go("/").await;
    browser.press("//summary[normalize-space()='Open a job']").await;
    browser.write("//input[@id='title']", title).await;
    browser.press_button("Open the job").await;
    browser.see("//nav//a[@aria-current='page'][normalize-space()='Piece']").await;
    let path = browser.path().await;
    path.split('/').nth(2).unwrap_or_else(|| panic!("no job in {path}")).to_owned()
}

/// Says a line on the page that is shown, by its buttons alone, and answers the entry's place.
pub(crate) async fn say(browser: &Browser, line: &str) -> u64 {
    browser.write("//input[@id='line']", line).await;
    browser.press("//form[contains(@class,'line')]//button").await;
    browser.press("//form[contains(@class,'keep')]//button[normalize-space()='Keep']").await;
    kept(browser).await
}

/// The place of the entry that the page says it kept.
async fn kept(browser: &Browser) -> u64 {
    let link = browser.see("//p[@role='status'][contains(.,'Kept as entry')]/a").await;
    link.text().await.expect("a link has words").parse().expect("the words are a number")
}

/// How many entries a job has, by its own lines.
fn entries(house: &House, number: &str) -> usize {
    plain::ask(house.port, "GET", &format!("/job/{number}/lines"), &[], "").body.lines().count()
}

/// A job with one coil, opened and said by hand.
async fn job_with_a_coil(browser: &Browser, title: &str) -> String {
    let number = open_job(browser, title).await;
    browser.go(&format!("/job/{number}/parts")).await;
    say(browser, "part neck coil, coil, neck").await;
    browser.see("//div[contains(@class,'entry')][contains(.,'neck coil')]").await;
    number
}

/// A reading is understood while it is typed, without a press; Enter keeps it.
pub(crate) async fn a_reading_is_understood_as_it_is_typed(_: Arc<House>, browser: Arc<Browser>) {
    let number = job_with_a_coil(&browser, "Typed with the script").await;
    browser.go(&format!("/job/{number}/readings")).await;
    browser.keys("//input[@id='line']", "neck 6k31 21C").await;
    browser.see("//*[@id='heard'][contains(.,'Understood:')][contains(.,'6k31')]").await;
    browser.see("//*[@id='heard'][@data-line='neck 6k31 21C']").await;
    browser.keys("//input[@id='line']", ENTER).await;
    let seq = kept(&browser).await;
    browser.see(&format!("//*[@id='entry-{seq}'][contains(.,'neck coil 6k31')]")).await;
    assert_eq!(browser.path().await, format!("/job/{number}/readings"));
    // Going back and on again keeps nothing anew.
    browser.back().await;
    browser.go(&format!("/job/{number}/history")).await;
    let entries = "return document.querySelectorAll('main .entry').length";
    assert_eq!(browser.look(entries).await.as_u64(), Some(seq + 1), "every entry once, counted from 0");
}

/// A line that is read by its button first is kept by Enter too.
pub(crate) async fn enter_keeps_what_was_read_by_the_button(_: Arc<House>, browser: Arc<Browser>) {
    let number = job_with_a_coil(&browser, "Read, then Enter").await;
    browser.go(&format!("/job/{number}/readings?line=neck+6k31+21C")).await;
    browser.see("//*[@id='heard'][@data-line='neck 6k31 21C'][contains(.,'Understood:')]").await;
    browser.keys("//input[@id='line']", ENTER).await;
    let seq = kept(&browser).await;
    browser.see(&format!("//*[@id='entry-{seq}'][contains(.,'neck coil 6k31')]")).await;
}

/// The same by buttons alone, with scripts switched off.
pub(crate) async fn a_reading_is_kept_without_the_script(_: Arc<House>, browser: Arc<Browser>) {
    browser.without_script();
    let number = job_with_a_coil(&browser, "Pressed without the script").await;
    browser.go(&format!("/job/{number}/readings")).await;
    browser.write("//input[@id='line']", "neck 6k31 21C").await;
    browser.press_button("Read").await;
    browser.see("//*[@id='heard'][contains(.,'Understood:')][contains(.,'6k31')]").await;
    browser.press_button("Keep").await;
    let seq = kept(&browser).await;
    browser.see(&format!("//*[@id='entry-{seq}'][contains(.,'neck coil 6k31')]")).await;
    browser.press("//nav//a[normalize-space()='History']").await;
    browser.see(&format!("//*[@id='entry-{seq}'][contains(.,'neck coil 6k31')]")).await;
}

/// A line that cannot be read: the place, three right ways, and a way to keep it all the same.
pub(crate) async fn a_line_that_cannot_be_read_is_kept_as_a_note(_: Arc<House>, browser: Arc<Browser>) {
    let number = job_with_a_coil(&browser, "A slip of the hand").await;
    browser.go(&format!("/job/{number}/readings")).await;
    browser.keys("//input[@id='line']", "neck 6q31 21C").await;
    browser.see("//*[@id='heard']//strong[contains(.,'6q31')]").await;
    browser.see("//*[@id='heard']/pre[contains(.,'neck 6q31 21C')][contains(.,'^')]").await;
    browser.see("//*[@id='heard'][count(.//em) >= 3]").await;
    // Enter does not keep what was not understood.
    browser.keys("//input[@id='line']", ENTER).await;
    browser.see("//*[@id='heard']//strong[contains(.,'6q31')]").await;
    browser.press_button("Keep it as a note").await;
    let seq = kept(&browser).await;
    browser.see(&format!("//*[@id='entry-{seq}'][contains(.,'neck 6q31 21C')][contains(.,'note')]")).await;
}

/// A correction stands beside what it corrects; what is struck out stays to be read.
pub(crate) async fn what_is_corrected_or_struck_out_stays(_: Arc<House>, browser: Arc<Browser>) {
    let number = job_with_a_coil(&browser, "Read twice").await;
    browser.go(&format!("/job/{number}/readings")).await;
    let seq = say(&browser, "neck 6k13 21C").await;
    browser.press(&format!("//*[@id='entry-{seq}']//a")).await;
    browser.write("//textarea[@id='line']", "neck 6k31 21C").await;
    browser.press_button("Keep the correction").await;
    browser.see(&format!("//*[@id='entry-{seq}']//*[contains(@class,'gone')][contains(.,'6k13')]")).await;
    let later = seq + 1;
    browser.see(&format!("//*[@id='entry-{later}'][contains(.,'6k31')]")).await;
    browser.go(&format!("/job/{number}/entry/{later}")).await;
    browser.see(&format!("//*[@id='entry-{seq}'][contains(.,'6k13')]")).await;
    browser.write("//input[@id='why']", "the leads were on the wrong coil").await;
    browser.press_button("Strike it out").await;
    browser.see(&format!("//*[@id='entry-{later}']//*[contains(@class,'gone')][contains(.,'6k31')]")).await;
    browser.see("//*[contains(.,'the leads were on the wrong coil')]").await;
    browser.go(&format!("/job/{number}/history")).await;
    browser.see(&format!("//*[@id='entry-{seq}'][contains(.,'6k13')]")).await;
    browser.see(&format!("//*[@id='entry-{later}'][contains(.,'6k31')]")).await;
}

/// A form that arrives twice keeps once, whichever form it is.
pub(crate) async fn a_form_sent_twice_keeps_once(house: Arc<House>, browser: Arc<Browser>) {
    let number = job_with_a_coil(&browser, "Pressed twice").await;
    let page = plain::ask(house.port, "GET", &format!("/job/{number}/readings?line=neck+6k31+21C"), &[], "");
    let draft = hidden(&page.body, "draft");
    let before = entries(&house, &number);
    let fields = [("line", "neck 6k31 21C"), ("page", "readings"), ("draft", draft.as_str())];
    let [first, second] = [(); 2].map(|()| plain::form(house.port, &format!("/job/{number}/say"), &fields));
    assert_eq!(first.status, 303, "{}", first.body);
    let seq = number_after(&first.head, "kept=");
    assert_eq!(
        number_after(&second.head, "kept="),
        seq,
        "the second answer tells of the entry that the first kept"
    );
    assert_eq!(entries(&house, &number), before + 1, "a reading sent twice");
    let entry = plain::ask(house.port, "GET", &format!("/job/{number}/entry/{seq}"), &[], "");
    let draft = hidden(&entry.body, "draft");
    for _ in 0..2 {
        let fields = [("line", "neck 6k13 21C"), ("draft", draft.as_str())];
        plain::form(house.port, &format!("/job/{number}/entry/{seq}/correct"), &fields);
    }
    assert_eq!(entries(&house, &number), before + 2, "a correction sent twice");
    for _ in 0..2 {
        let fields = [
            ("step", "measure P1"),
            ("words", "Put the meter to it."),
            ("decision", "taken"),
            ("page", "readings"),
        ];
        plain::form(house.port, &format!("/job/{number}/decide"), &fields);
    }
    assert_eq!(entries(&house, &number), before + 3, "a decision sent twice");
}

/// The value of the first hidden field with a name.
fn hidden(page: &str, name: &str) -> String {
    let field = page
        .split(&format!("name=\"{name}\" value=\""))
        .nth(1)
        .unwrap_or_else(|| panic!("no field {name}: {page}"));
    field.split('"').next().unwrap_or_default().to_owned()
}

/// A photograph shows; a file that is no picture is kept all the same.
pub(crate) async fn photographs_and_other_files_are_kept(house: Arc<House>, browser: Arc<Browser>) {
    let number = job_with_a_coil(&browser, "Photographed").await;
    browser.go(&format!("/job/{number}/parts")).await;
    let picture = house.file("coil.png", &pictures::png(96, 64));
    send_file(&browser, &picture, "the coil's tape").await;
    let seq = kept(&browser).await;
    browser.see(&format!("//*[@id='entry-{seq}'][contains(.,'the coil')]//img")).await;
    browser.look_long("const done = arguments[0]; Promise.all([...document.images].map((one) => one.decode())).then(done, done)", Vec::new()).await;
    let wide = format!("return document.querySelector('#entry-{seq} img').naturalWidth");
    assert_eq!(browser.look(&wide).await.as_u64(), Some(96), "the picture shows in its own size");

    browser.go(&format!("/job/{number}/piece")).await;
    let file = house.file("list.txt", b"This is a list, and no picture.\n");
    send_file(&browser, &file, "a list that came with it").await;
    let seq = kept(&browser).await;
    browser
        .see(&format!("//*[@id='entry-{seq}'][contains(.,'a list that came with it')][not(.//img)]"))
        .await;
}

async fn send_file(browser: &Browser, file: &std::path::Path, caption: &str) {
    browser.press("//summary[normalize-space()='Keep a photograph']").await;
    let on_parts = browser.path().await.ends_with("/parts");
    if on_parts {
        browser.press("//select[@id='part']/option[contains(.,'neck coil')]").await;
    }
    browser.write("//input[@id='caption']", caption).await;
    browser.keys("//input[@id='file']", &file.display().to_string()).await;
    browser.press("//form[contains(@action,'/photograph')]//button").await;
}

/// A sweep and two recordings are kept by the form on the readings' page, once each, and a form without a file says so.
pub(crate) async fn sweeps_and_recordings_are_kept(house: Arc<House>, browser: Arc<Browser>) {
    let number = job_with_a_coil(&browser, "Swept").await;
    browser.go(&format!("/job/{number}/readings")).await;
    let sweep = house.file("neck.csv", b"frequency Hz;impedance ohm\n120;6310\n1000;18500\n");
    send_sweep(&browser, &[&sweep], &["", "", "21C"]).await;
    let seq = kept(&browser).await;
    browser.go(&format!("/job/{number}/entry/{seq}")).await;
    browser
        .see("//div[contains(@class,'entry')][contains(.,'neck coil impedance sweep')][contains(.,'at 21C')]")
        .await;

    browser.go(&format!("/job/{number}/readings")).await;
    let [first, second] = ["first.wav", "second.wav"].map(|name| house.file(name, name.as_bytes()));
    send_sweep(&browser, &[&first, &second], &["10k", "100k", ""]).await;
    let seq = kept(&browser).await;
    browser.go(&format!("/job/{number}/entry/{seq}")).await;
    browser
        .see("//div[contains(@class,'entry')][contains(.,'resistor test')][contains(.,'10k and 100k')]")
        .await;

    let before = entries(&house, &number);
    browser.go(&format!("/job/{number}/readings")).await;
    let signal = plain::ask(house.port, "GET", "/test-signal.wav", &[], "");
    assert!(signal.head.contains("audio/vnd.wave") && signal.body.starts_with("RIFF"), "{}", signal.head);
    send_sweep(&browser, &[&first], &["10k", "100k", ""]).await;
    browser.see("//*[contains(.,'2 resistors were said and 1 file was given')]").await;
    assert_eq!(entries(&house, &number), before, "what was refused kept nothing");
}

async fn send_sweep(browser: &Browser, files: &[&std::path::Path], typed: &[&str; 3]) {
    browser.press("//summary[normalize-space()='Keep a sweep or two recordings']").await;
    let names: Vec<String> = files.iter().map(|file| file.display().to_string()).collect();
    browser.keys("//input[@id='files']", &names.join("\n")).await;
    for (id, text) in ["resistor-first", "resistor-second", "temperature"].into_iter().zip(typed) {
        browser.write(&format!("//input[@id='{id}']"), text).await;
    }
    browser.press("//form[contains(@action,'/sweep')]//button").await;
}

/// A step is taken up, then done, and says so.
pub(crate) async fn a_step_is_taken_up_and_done(_: Arc<House>, browser: Arc<Browser>) {
    let number = job_with_a_coil(&browser, "One step after the other").await;
    browser.size(1280, 900).await;
    browser.go(&format!("/job/{number}/readings")).await;
    let step = "//section[@aria-labelledby='next']//div[contains(@class,'next')][contains(.,'neck coil')]";
    browser.press(&format!("{step}//button[normalize-space()='Take it up']")).await;
    browser.see(&format!("{step}//p[normalize-space()='Taken up.']")).await;
    browser.go("/").await;
    browser.see(&format!("//li[contains(.,'{number}')]//li[contains(.,'Taken up')]")).await;
    browser.go(&format!("/job/{number}/readings")).await;
    browser.press(&format!("{step}//button[normalize-space()='Done']")).await;
    browser.see(&format!("{step}//p[normalize-space()='Done.']")).await;
}

/// One touch takes sums from every page, and brings them back.
pub(crate) async fn one_touch_hides_money(house: Arc<House>, browser: Arc<Browser>) {
    let lines = plain::ask(house.port, "GET", "/job/26-014/lines", &[], "").body;
    let line = lines.lines().find(|line| line.contains("money/1")).expect("the demo keeps a deposit");
    let seq = number_after(line, "\"seq\":");
    let mut pages: Vec<String> = ["piece", "parts", "readings", "wiring", "history"]
        .iter()
        .map(|page| format!("/job/26-014/{page}"))
        .collect();
    pages.extend(["/".to_owned(), "/find?words=deposit".to_owned(), format!("/job/26-014/entry/{seq}")]);

    browser.go("/job/26-014/piece").await;
    browser.see("//div[contains(@class,'entry')][contains(.,'150.00')]").await;
    browser.go(&format!("/job/26-014/entry/{seq}")).await;
    browser.see("//div[contains(@class,'entry')][contains(.,'150.00')]").await;
    browser.press_button("Hide money").await;
    browser.see("//button[normalize-space()='Show money']").await;
    for path in &pages {
        browser.go(path).await;
        let source = browser.look("return document.documentElement.outerHTML").await;
        let source = source.as_str().unwrap_or_default();
        assert!(!source.contains("150.00") && !source.contains("15000"), "{path} still shows the sum");
        assert!(source.contains("Show money"), "{path} does not say that money is hidden");
    }
    browser.go("/job/26-014/piece").await;
    browser.press_button("Show money").await;
    browser.see("//div[contains(@class,'entry')][contains(.,'150.00')]").await;
}

/// A job is opened again where the hand left off.
pub(crate) async fn a_job_opens_where_the_hand_left_off(_: Arc<House>, browser: Arc<Browser>) {
    let number = job_with_a_coil(&browser, "Left in the middle").await;
    browser.go(&format!("/job/{number}/readings")).await;
    say(&browser, "neck 6k31 21C").await;
    browser.go("/").await;
    browser.press(&format!("//a[@href='/job/{number}']")).await;
    browser.see("//nav//a[@aria-current='page'][normalize-space()='Readings']").await;
}

/// Whatever is typed stays words.
pub(crate) async fn hostile_words_stay_words(house: Arc<House>, browser: Arc<Browser>) {
    let hostile = "<script>alert(1)</script><img src=x onerror=alert(2)>\"'&";
    let number = open_job(&browser, hostile).await;
    let seq = say(&browser, &format!("note {hostile}")).await;
    browser.see(&format!("//*[@id='entry-{seq}'][contains(.,'<script>alert(1)</script>')]")).await;
    browser.go(&format!("/job/{number}/parts")).await;
    say(&browser, &format!("part {hostile}, coil, <b>neck</b>")).await;
    let picture = house.file("<b>x<b>.png", &pictures::png(8, 8));
    send_file_of_whole(&browser, &number, &picture, hostile).await;
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
        "history",
        "entry/1",
        "piece?line=<script>alert(1)</script>",
    ] {
        browser.go(&format!("/job/{number}/{page}")).await;
        assert!(!browser.alerts().await, "{page}: words became a script");
        let made = "return document.querySelectorAll('main script, main b, header script, .say script, img[src=x]').length";
        assert_eq!(browser.look(made).await.as_u64(), Some(0), "{page}: words became a part of the page");
    }
}

async fn send_file_of_whole(browser: &Browser, number: &str, file: &std::path::Path, caption: &str) {
    browser.go(&format!("/job/{number}/piece")).await;
    send_file(browser, file, caption).await;
    kept(browser).await;
}
