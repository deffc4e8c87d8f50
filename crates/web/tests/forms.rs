//! Every form keeps what it says, once, and says plainly what it cannot take.

mod common;

use common::page::Page;
use common::{House, photograph};

#[tokio::test]
async fn a_job_is_opened_once_and_gone_back_to() {
    let house = House::new();
    let draft = Page::read(&house.get("/").await.body).field("draft");
    assert_eq!(draft.len(), 32);
    let fields = [("title", "Lap steel"), ("owner", "Mirabel Oakhanger"), ("draft", draft.as_str())];
    let first = house.post("/jobs", &fields).await;
    let again = house.post("/jobs", &fields).await;
    assert_eq!(first.to(), "/job/26-001/piece");
    assert_eq!(again.to(), first.to());
    assert_eq!(house.workshop.cards().unwrap().len(), 1);
    assert!(house.get("/job/26-001/piece").await.body.contains("Mirabel Oakhanger"));
    assert_eq!(house.get("/job/26-001").await.to(), "/job/26-001/piece");
    house
        .post("/job/26-001/say", &[("line", "part neck coil, coil, neck"), ("page", "parts"), ("draft", "p")])
        .await;
    assert_eq!(house.get("/job/26-001").await.to(), "/job/26-001/parts");
    assert!(house.post("/jobs", &[("title", "  ")]).await.trouble(422).contains("title"));
    assert!(
        house.post("/jobs", &[("owner", "nobody")]).await.trouble(422).contains("without one of its fields")
    );
    assert_eq!(house.workshop.cards().unwrap().len(), 1);
}

#[tokio::test]
async fn a_line_is_read_then_kept_once() {
    let (house, number) = House::lived_in();
    let page = house.get(&format!("/job/{number}/readings?line=neck+coil+6k35+20C")).await;
    let read = Page::read(&page.body);
    assert!(read.text_of("id", "heard").starts_with("Understood:"));
    let draft = read.field("draft");
    let heads = house.heads();
    let fields = [("line", "neck coil 6k35 20C"), ("page", "readings"), ("draft", draft.as_str())];
    let first = house.post(&format!("/job/{number}/say"), &fields).await;
    let again = house.post(&format!("/job/{number}/say"), &fields).await;
    assert!(first.to().starts_with(&format!("/job/{number}/readings?kept=")), "{}", first.to());
    assert_eq!(first.to(), again.to());
    assert_ne!(house.heads(), heads);
    let after = house.get(first.to().split('#').next().unwrap()).await;
    assert!(Page::read(&after.body).text_of("role", "status").starts_with("Kept as entry"));
    // The same form with other words in it is refused, not lost.
    let other = [("line", "neck coil 6k99 20C"), ("page", "readings"), ("draft", draft.as_str())];
    assert!(house.post(&format!("/job/{number}/say"), &other).await.trouble(422).contains("was sent before"));
    // The script is answered the piece of page alone.
    let piece = house.get(&format!("/job/{number}/heard?page=readings&line=neck+coil+6k35")).await;
    assert!(piece.body.starts_with("<span>Understood:"), "{}", piece.body);
    Page::read(&piece.body);
    assert_eq!(house.get(&format!("/job/{number}/heard?line=")).await.body, "");
}

#[tokio::test]
async fn a_line_that_is_not_understood_is_pointed_at_and_can_be_a_note() {
    let (house, number) = House::lived_in();
    let heads = house.heads();
    let page = house.get(&format!("/job/{number}/readings?line=nekc+6k31")).await;
    let read = Page::read(&page.body);
    read.must_be_sound("not heard");
    assert!(read.all("pre").next().unwrap().text.contains("^^^^"));
    let fields = [("line", "nekc 6k31"), ("page", "readings"), ("draft", "d")];
    house.post(&format!("/job/{number}/say"), &fields).await.trouble(422);
    assert_eq!(house.heads(), heads);
    let note = house.post(&format!("/job/{number}/note"), &fields).await;
    let again = house.post(&format!("/job/{number}/note"), &fields).await;
    assert_eq!(note.to(), again.to());
    assert!(house.get(note.to().split('?').next().unwrap()).await.body.contains("nekc 6k31"));
    let empty = house.post(&format!("/job/{number}/note"), &[("line", " "), ("draft", "e")]).await;
    assert!(empty.trouble(422).contains("note"));
}

#[tokio::test]
async fn entries_are_corrected_and_struck_out() {
    let (house, number) = House::lived_in();
    let seq = house.say(&number, "neck coil 6k31 20C");
    let here = format!("/job/{number}/entry/{seq}");
    let page = Page::read(&house.get(&here).await.body);
    assert_eq!(page.field("line"), "neck coil 6k31 20C");
    let draft = page.field("draft");
    let fields = [("line", "neck coil 6k13 20C"), ("draft", draft.as_str())];
    assert_eq!(house.post(&format!("{here}/correct"), &fields).await.to(), here);
    assert_eq!(house.post(&format!("{here}/correct"), &fields).await.to(), here);
    let body = house.get(&here).await.body;
    assert!(body.contains("6k13") && body.contains("6k31"), "both stay");
    house.post(&format!("{here}/correct"), &[("line", "nekc 6k"), ("draft", "x")]).await.trouble(422);
    house.post(&format!("{here}/strike"), &[("why", " "), ("draft", "y")]).await.trouble(422);
    assert_eq!(house.post(&format!("{here}/strike"), &[("why", "wrong"), ("draft", "z")]).await.to(), here);
    let far = format!("/job/{number}/entry/99999");
    house.get(&far).await.trouble(404);
    house.post(&format!("{far}/correct"), &fields).await.trouble(404);
    house.post(&format!("{far}/strike"), &[("why", "w"), ("draft", "a")]).await.trouble(404);
    house.get(&format!("/job/{number}/entry/none")).await.trouble(404);
    house.get(&format!("/job/{number}/entry/-1")).await.trouble(404);
}

#[tokio::test]
async fn content_is_taken_out_for_good_and_the_page_says_what_that_means() {
    let (house, number) = House::lived_in();
    let seq = house.workshop.keep_note(&number, "bought from Perpetua Lindqvist-Hale", "n").unwrap();
    let (_, head) = house.workshop.lines(&number).unwrap();
    let told = asfound_acts::PaperTold { title: "For the owner".into(), ..Default::default() };
    house.workshop.issue(&number, b"paper", &head, &told).unwrap();
    let here = format!("/job/{number}/entry/{seq}");
    let page = house.get(&here).await.body;
    for says in ["cannot be brought back", "still verifies", "out of reach", "local law", "For the owner"] {
        assert!(page.contains(says), "{says}");
    }
    for (who, ground, named) in [("", "asked", "Who"), ("Owner", " ", "ground")] {
        let fields = [("who", who), ("ground", ground), ("draft", "w")];
        assert!(house.post(&format!("{here}/withhold"), &fields).await.trouble(422).contains(named));
    }
    house.post(&format!("{here}/withhold"), &[("who", "Owner")]).await.trouble(422);
    assert!(house.get(&here).await.body.contains("Lindqvist"));
    let fields = [("who", "Owner"), ("ground", "asked by the seller"), ("draft", "w")];
    let gone = house.post(&format!("{here}/withhold"), &fields).await;
    assert_eq!(gone.status, 200);
    let entries = house.workshop.job(&number).unwrap().history.len();
    let read = Page::read(&gone.body);
    read.must_be_sound("withheld");
    assert!(gone.body.contains("is withheld") && gone.body.contains("For the owner"));
    assert_eq!(house.post(&format!("{here}/withhold"), &fields).await.status, 200);
    assert_eq!(
        house.workshop.job(&number).unwrap().history.len(),
        entries,
        "a second press takes out nothing more"
    );
    for path in [
        here,
        format!("/job/{number}/history"),
        format!("/job/{number}/piece"),
        "/".into(),
        "/find?words=Lindqvist".into(),
    ] {
        let body = house.get(&path).await.body;
        assert!(!body.replace("value=\"Lindqvist\"", "").contains("Lindqvist"), "{path}");
    }
}

#[tokio::test]
async fn files_that_other_entries_show_are_named_when_one_goes() {
    let (house, number) = House::lived_in();
    let keep =
        |draft| house.workshop.keep_photograph(&number, "b.jpg", b"rubbish", None, "", Some(draft)).unwrap();
    let (first, second) = (keep("a"), keep("b"));
    assert_ne!(first.seq, second.seq);
    let fields = [("who", "Owner"), ("ground", "asked"), ("draft", "w")];
    let gone = house.post(&format!("/job/{number}/entry/{}/withhold", first.seq), &fields).await;
    assert!(gone.body.contains(&first.original));
}

#[tokio::test]
async fn a_step_is_decided_once() {
    let (house, number) = House::lived_in();
    let fields = |decision| [("step", "s"), ("words", "Tap it."), ("decision", decision), ("page", "wiring")];
    let path = format!("/job/{number}/decide");
    assert_eq!(house.post(&path, &fields("taken")).await.to(), format!("/job/{number}/wiring"));
    let heads = house.heads();
    house.post(&path, &fields("taken")).await;
    assert_eq!(house.heads(), heads, "pressed twice is decided once");
    house.post(&path, &fields("done")).await;
    house.post(&path, &fields("taken")).await;
    assert_eq!(house.workshop.job(&number).unwrap().decided.len(), 3);
    house.post(&path, &fields("burnt")).await.trouble(422);
    house.post(&path, &[("step", "s")]).await.trouble(422);
}

#[tokio::test]
async fn photographs_are_kept_once_each_and_it_is_said_why_one_cannot_be_shown() {
    let (house, number) = House::lived_in();
    let picture = photograph();
    let path = format!("/job/{number}/photograph");
    let draft = Page::read(&house.get(&format!("/job/{number}/parts")).await.body);
    let draft = draft
        .all("input")
        .filter_map(|tag| tag.attribute("value"))
        .find(|value| value.ends_with("-photograph"));
    let draft = draft.unwrap().to_owned();
    let fields = [
        ("page", None, &b"parts"[..]),
        ("draft", None, draft.as_bytes()),
        ("part", None, b"P2"),
        ("caption", None, b"both"),
        ("file", Some("a.jpg"), &picture),
        ("file", Some("empty"), b""),
        ("file", Some("b.heic"), b"\0\0\0\x18ftypheic and more"),
    ];
    let before = house.workshop.job(&number).unwrap().photographs.len();
    let first = house.post_files(&path, &fields).await;
    let again = house.post_files(&path, &fields).await;
    assert_eq!(first.to(), again.to());
    assert!(first.to().starts_with(&format!("/job/{number}/parts?kept=")) && first.to().contains("&until="));
    let job = house.workshop.job(&number).unwrap();
    assert_eq!(job.photographs.len(), before + 2);
    assert_eq!(job.photographs[before].body.part.as_deref(), Some("P2"));
    let page = house.get(first.to().split('#').next().unwrap()).await;
    Page::read(&page.body).must_be_sound("kept");
    assert!(page.body.contains("no preview can be shown: this is a HEIC"), "{}", page.body);
    assert!(page.body.contains("Kept as entries"));

    for (fields, status) in [
        (vec![("page", None, &b"parts"[..])], 422),
        (vec![("file", Some("a"), &b""[..])], 422),
        (vec![("part", None, &b"P9"[..]), ("file", Some("a"), b"x")], 404),
    ] {
        house.post_files(&path, &fields).await.trouble(status);
    }
    house.post(&path, &[("file", "a")]).await.trouble(422);
    house.post_files("/job/26-999/photograph", &[("file", Some("a"), b"x")]).await.trouble(404);
}

#[tokio::test]
async fn a_form_that_is_too_large_is_refused_with_the_limit() {
    let (house, number) = House::lived_in();
    let large = vec![7; 300_000_001];
    let path = format!("/job/{number}/photograph");
    let sentence = house.post_files(&path, &[("file", Some("a"), &large)]).await.trouble(413);
    assert!(sentence.contains("256 MB"), "{sentence}");
    let sentence = house.post_files(&path, &[("file", Some("a"), &large[..256_000_001])]).await.trouble(422);
    assert!(sentence.contains("256 MB"), "{sentence}");
    let words = "w".repeat(1_000_001);
    house.post(&format!("/job/{number}/note"), &[("line", &words), ("draft", "d")]).await.trouble(413);
}

#[tokio::test]
async fn pictures_come_in_their_sizes_and_by_their_hash_alone() {
    let (house, number) = House::lived_in();
    let original = house.workshop.job(&number).unwrap().photographs[0].body.original.clone();
    for size in [480, 800, 1600] {
        let answer = house.get(&format!("/picture/{original}/{size}")).await;
        assert_eq!(
            (answer.status.as_u16(), &answer.headers["content-type"]),
            (200, &"image/jpeg".parse().unwrap())
        );
        assert_eq!(answer.headers["cross-origin-resource-policy"], "same-origin");
    }
    let none = "0".repeat(64);
    for path in [
        format!("/picture/{original}/481"),
        format!("/picture/{original}/0"),
        format!("/picture/{original}/-1"),
        format!("/picture/{original}/99999999999"),
        format!("/picture/{none}/480"),
        "/picture/not-a-hash/480".to_owned(),
        "/picture/..%2F..%2Fworkshop.sqlite/480".to_owned(),
        format!("/picture/{}/480", original.to_uppercase()),
    ] {
        house.get(&path).await.trouble(404);
    }
}

#[tokio::test]
async fn a_job_from_elsewhere_is_taken_in_read_and_gone_on_from() {
    let (there, their_number) = House::lived_in();
    let lines = there.workshop.lines(&their_number).unwrap().0;
    let (house, ours) = House::lived_in();
    let taken = house.post_files("/take-in", &[("lines", Some("a.jsonl"), lines.as_bytes())]).await;
    assert_eq!(taken.status, 200);
    assert!(taken.body.contains("entries were taken in"), "{}", taken.body);
    Page::read(&taken.body).must_be_sound("taken in");
    let again = house.post_files("/take-in", &[("lines", Some("a.jsonl"), lines.as_bytes())]).await;
    assert!(again.body.contains("here already"));
    let far = house.workshop.from_elsewhere().unwrap()[0].number.clone();
    let bench = house.get("/").await.body;
    assert!(bench.contains("From other workshops") && bench.contains(&format!("/job/{far}")));
    assert_eq!(house.get(&format!("/job/{far}")).await.to(), format!("/job/{far}/piece"));
    let entries = house.workshop.job(&far).unwrap().history.len() as u64;
    for path in common::all_pages(&far, entries) {
        let answer = house.get(&path).await;
        assert_eq!(answer.status, 200, "{path}");
        Page::read(&answer.body).must_be_sound(&path);
        for form in ["/say\"", "/decide\"", "/photograph\"", "/correct\"", "/strike\""] {
            assert!(
                !path.starts_with("/job/elsewhere") || !answer.body.contains(form),
                "{path} offers {form}"
            );
        }
    }
    let head = house.workshop.lines(&far).unwrap().1;
    for (path, fields) in [
        ("say", &[("line", "neck coil 6k31"), ("draft", "a")][..]),
        ("note", &[("line", "a"), ("draft", "b")]),
        ("decide", &[("step", "a"), ("words", "b"), ("decision", "done"), ("page", "piece")]),
        ("entry/1/strike", &[("why", "a"), ("draft", "c")]),
        ("entry/1/correct", &[("line", "piece: a"), ("draft", "d")]),
    ] {
        assert!(
            house.post(&format!("/job/{far}/{path}"), fields).await.trouble(422).contains("another workshop")
        );
    }
    assert_eq!(house.workshop.lines(&far).unwrap().1, head);
    let lines_again = house.get(&format!("/job/{far}/lines")).await;
    assert_eq!(lines_again.body, lines);
    let on = house.post(&format!("/job/{far}/go-on"), &[("title", "Goes on"), ("draft", "g")]).await;
    assert_eq!(on.to(), "/job/26-002/piece");
    let continues = house.workshop.job("26-002").unwrap().opened.as_ref().unwrap().body.continues.clone();
    assert_eq!(continues, Some(head));
    house.post(&format!("/job/{far}/go-on"), &[("title", "")]).await.trouble(422);

    assert!(
        house
            .post_files("/take-in", &[("lines", Some("a"), b"a list")])
            .await
            .trouble(422)
            .contains("Line 1")
    );
    house.post_files("/take-in", &[("lines", Some("a"), b"\xff\xfe")]).await.trouble(422);
    house.post_files("/take-in", &[("other", None, b"")]).await.trouble(422);
    house.post_files("/take-in", &[("lines", Some("a"), b"")]).await.trouble(422);
    let own = house.workshop.lines(&ours).unwrap().0;
    assert!(
        house
            .post_files("/take-in", &[("lines", Some("a"), own.as_bytes())])
            .await
            .body
            .contains("here already")
    );
}

#[tokio::test]
async fn what_was_kept_is_found_again() {
    let (house, number) = House::lived_in();
    let found = house.get("/find?words=damp").await;
    assert!(found.body.contains("1 place") && found.body.contains(&format!("/job/{number}/entry/")));
    assert!(house.get("/find?words=zanzibar").await.body.contains("Nothing kept so far"));
    for words in ["", "%22", "*", "AND", "%28", "a%00b", "NEAR(a b)"] {
        assert_eq!(
            house.get(&format!("/find?words={}", words.replace(' ', "+"))).await.status,
            200,
            "{words}"
        );
    }
    assert_eq!(house.get("/find").await.status, 200);
}

#[tokio::test]
async fn lines_style_script_and_faces_are_served_by_the_program() {
    let (house, number) = House::lived_in();
    let lines = house.get(&format!("/job/{number}/lines")).await;
    assert_eq!(
        lines.headers["content-disposition"],
        format!("attachment; filename=\"{number}.jsonl\"").as_str()
    );
    assert!(asfound_acts::verify_lines(&lines.body)[0].is_whole());
    for (path, kind) in [
        ("/style.css", "text/css; charset=utf-8"),
        ("/script.js", "text/javascript; charset=utf-8"),
        ("/faces/serif.otf", "font/otf"),
        ("/faces/serif-italic.otf", "font/otf"),
        ("/faces/sans.ttf", "font/ttf"),
    ] {
        let answer = house.get(path).await;
        assert_eq!(
            (answer.status.as_u16(), answer.headers["content-type"].to_str().unwrap()),
            (200, kind),
            "{path}"
        );
        assert!(answer.headers["cache-control"].to_str().unwrap().contains("max-age"));
    }
    house.get("/faces/none.otf").await.trouble(404);
}
