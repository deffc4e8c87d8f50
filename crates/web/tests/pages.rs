//! Every page is sound HTML, changes nothing by being looked at, hides sums, and takes words for words.

mod common;

use std::collections::BTreeSet;

use common::page::Page;
use common::{House, all_pages};

fn entries(house: &House, number: &str) -> u64 {
    house.workshop.job(number).unwrap().history.len() as u64
}

#[tokio::test]
async fn every_page_is_sound_and_looking_changes_nothing() {
    let (house, number) = House::lived_in();
    house.workshop.strike(&number, 3, "wrong coil", "s").unwrap();
    house.workshop.withhold(&number, 7, "Owner", "asked", "w").unwrap();
    let heads = house.heads();
    for path in all_pages(&number, entries(&house, &number)) {
        let answer = house.get(&path).await;
        assert_eq!(answer.status, 200, "{path}: {}", answer.body);
        Page::read(&answer.body).must_be_sound(&path);
        let policy = answer.headers["content-security-policy"].to_str().unwrap();
        assert!(policy.contains("default-src 'self'") && !policy.contains("unsafe"), "{path}");
        assert_eq!(answer.headers["x-content-type-options"], "nosniff");
        assert_eq!(answer.headers["cache-control"], "no-store");
    }
    assert_eq!(house.heads(), heads);
}

#[tokio::test]
async fn every_link_leads_somewhere() {
    let (house, number) = House::lived_in();
    let lines = {
        let other = House::lived_in();
        other.0.workshop.lines(&other.1).unwrap().0
    };
    house.workshop.take_in(&lines).unwrap();
    let heads = house.heads();
    let mut known = BTreeSet::from(["/".to_owned(), format!("/job/{number}/piece?kept=2&until=4")]);
    let mut open: Vec<String> = known.iter().cloned().collect();
    while let Some(path) = open.pop() {
        let answer = house.get(&path).await;
        if answer.status == 303 {
            let to = answer.to().to_owned();
            open.extend(known.insert(to.clone()).then_some(to));
            continue;
        }
        assert_eq!(answer.status, 200, "{path}");
        let kind = answer.headers["content-type"].to_str().unwrap().to_owned();
        if !kind.starts_with("text/html") {
            continue;
        }
        let page = Page::read(&answer.body);
        page.must_be_sound(&path);
        for tag in &page.tags {
            let address = tag.attribute("href").or(tag.attribute("src")).unwrap_or_default();
            match address.strip_prefix('#') {
                Some(id) => assert!(page.ids().contains(id), "{path}: nothing is called {id}"),
                // Photographs of a job from elsewhere did not come with its lines.
                None if tag.name == "img" && path.contains("elsewhere") => {}
                None if address.starts_with('/') => {
                    let address = address.split('#').next().unwrap_or_default().to_owned();
                    open.extend(known.insert(address.clone()).then_some(address));
                }
                None => {}
            }
        }
    }
    assert!(known.len() > 40, "{known:?}");
    assert_eq!(house.heads(), heads);
}

#[tokio::test]
async fn a_hidden_sum_is_on_no_page() {
    let (house, number) = House::lived_in();
    let seq = house.say(&number, "money deposit 1234.56 GBP");
    let shown = house.get(&format!("/job/{number}/piece")).await;
    assert!(shown.body.contains("1234.56"), "shown where nobody hides it");
    let hidden = house.post("/money", &[("show", "no"), ("back", &format!("/job/{number}/piece"))]).await;
    assert_eq!(hidden.to(), format!("/job/{number}/piece"));
    let cookie = hidden.headers["set-cookie"].to_str().unwrap().to_owned();
    assert!(cookie.contains("SameSite=Strict") && cookie.contains("HttpOnly"));
    let cookie = format!("other=1; {}", cookie.split(';').next().unwrap());
    let mut pages = all_pages(&number, seq + 1);
    pages.extend([
        "/find?words=deposit".to_owned(),
        "/find?words=1234".to_owned(),
        "/find?words=GBP".to_owned(),
    ]);
    for path in pages {
        let answer = house.get_with(&path, &[("cookie", &cookie)]).await;
        assert_eq!(answer.status, 200, "{path}");
        for trace in ["1234.56", "123456", "GBP</", "deposit 1"] {
            assert!(!answer.body.contains(trace), "{path} tells {trace}");
        }
        assert!(answer.body.contains("Show money"), "{path}");
        Page::read(&answer.body).must_be_sound(&path);
    }
    let answer = house.get_with("/", &[("cookie", "money=hidden-not")]).await;
    assert!(answer.body.contains("Hide money"));
}

#[tokio::test]
async fn words_stay_words_wherever_they_stand() {
    let hostile =
        "<script>alert(1)</script>\"'&<img src=x onerror=alert(2)> javascript:alert(3) {{7*7}} ${7}";
    let house = House::new();
    let opened = house
        .post(
            "/jobs",
            &[
                ("title", hostile),
                ("family", hostile),
                ("words", hostile),
                ("maker", hostile),
                ("serial", hostile),
                ("origin", hostile),
                ("owner", hostile),
            ],
        )
        .await;
    let number = opened.to().split('/').nth(2).unwrap().to_owned();
    house.say(&number, &format!("part {hostile}, coil, {hostile}"));
    house.workshop.keep_note(&number, hostile, "n").unwrap();
    house.workshop.decide(&number, hostile, hostile, "taken", "d").unwrap();
    let file = [
        ("part", None, &b"P1"[..]),
        ("caption", None, hostile.as_bytes()),
        ("file", Some("<b>x</b>.jpg"), b"rubbish"),
    ];
    let kept = house.post_files(&format!("/job/{number}/photograph"), &file).await;
    let kept = kept.to().to_owned();
    house.workshop.strike(&number, 3, hostile, "s").unwrap();
    let mut pages = all_pages(&number, entries(&house, &number));
    pages.push(kept);
    pages.push(format!("/find?words={}", common::escaped(hostile)));
    pages.push("/find?words=alert".to_owned());
    pages.push(format!("/job/{number}/wiring?line={}", common::escaped(hostile)));
    pages.push(format!("/job/{number}/readings?line={}", common::escaped(&format!("join {hostile}"))));
    for path in pages {
        let answer = house.get(&path).await;
        assert_eq!(answer.status, 200, "{path}");
        // Soundness already refuses every script, handler and foreign address that the words could have made.
        Page::read(&answer.body).must_be_sound(&path);
        assert!(!answer.body.contains("<script>") && !answer.body.contains("<img src=x"), "{path}");
    }
    // Who asks for words to be withheld may be hostile too.
    let fields = [("who", hostile), ("ground", hostile), ("draft", "w")];
    let gone = house.post(&format!("/job/{number}/entry/3/withhold"), &fields).await;
    assert_eq!(gone.status, 200);
    Page::read(&gone.body).must_be_sound("withheld");
}

#[tokio::test]
async fn hostile_addresses_are_answered_with_a_page() {
    let (house, number) = House::lived_in();
    for path in [
        "/job/%3Cscript%3Ealert(1)%3C%2Fscript%3E/piece",
        "/job/..%2F..%2Fetc/piece",
        "/job/a%0Ab",
        "/job/%F0%9F%8E%B8/history",
        "/job/elsewhere-0123456789ab/lines",
        "/nowhere/at/all",
        "/job/26-001/nothing",
    ] {
        let answer = house.get(path).await;
        answer.trouble(404);
        Page::read(&answer.body).must_be_sound(path);
        assert!(!answer.body.contains("<script>"));
    }
    for back in ["//evil.example", "/\\evil.example", "https://evil.example", "/a\r\nx: y", "/ü", ""] {
        let answer = house.post("/money", &[("show", "no"), ("back", back)]).await;
        assert_eq!(answer.to(), "/", "{back}");
    }
    let _ = number;
}
