//! Only this machine is answered, under its own name, and only its own pages' forms are taken.

mod common;

use axum::body::Body;
use axum::http::{Method, Request};
use common::{House, PORT};

#[tokio::test]
async fn a_foreign_name_is_refused() {
    let (house, number) = House::lived_in();
    for own in [
        format!("127.0.0.1:{PORT}"),
        format!("localhost:{PORT}"),
        format!("LocalHost:{PORT}"),
        format!("[::1]:{PORT}"),
    ] {
        assert_eq!(house.get_with("/", &[("host", &own)]).await.status, 200, "{own}");
    }
    let other_port = format!("127.0.0.1:{}", PORT + 1);
    for foreign in
        ["workshop.example", "127.0.0.1", &other_port, "localhost.example:8726", "127.0.0.1:8726.example", ""]
    {
        for path in ["/", &format!("/job/{number}/lines"), "/style.css", "/nowhere"] {
            let answer = house.get_with(path, &[("host", foreign)]).await;
            assert_eq!(answer.status, 421, "{foreign} {path}");
            assert!(!answer.body.contains("bass") && answer.body.ends_with(".\n"), "{}", answer.body);
        }
    }
    let unnamed = Request::builder().uri("/").body(Body::empty()).unwrap();
    assert_eq!(house.ask(unnamed).await.status, 421);
}

#[tokio::test]
async fn a_form_from_elsewhere_is_refused() {
    let (house, number) = House::lived_in();
    let heads = house.heads();
    let own = format!("http://127.0.0.1:{PORT}");
    let fields = [
        ("title", "a"),
        ("line", "note a"),
        ("draft", "d"),
        ("why", "w"),
        ("who", "o"),
        ("ground", "g"),
        ("step", "s"),
        ("words", "w"),
        ("decision", "done"),
        ("page", "piece"),
        ("show", "no"),
        ("back", "/"),
    ];
    let paths = [
        "say",
        "note",
        "decide",
        "go-on",
        "photograph",
        "entry/1/correct",
        "entry/1/strike",
        "entry/1/withhold",
    ];
    let mut paths: Vec<String> = paths.iter().map(|path| format!("/job/{number}/{path}")).collect();
    paths.extend(["/jobs", "/money", "/take-in"].map(str::to_owned));
    for path in &paths {
        for stranger in [
            [("origin", "http://workshop.example")].as_slice(),
            &[("origin", "null")],
            &[("origin", "http://127.0.0.1:1")],
            &[("sec-fetch-site", "cross-site"), ("origin", &own)],
            &[("sec-fetch-site", "same-site"), ("origin", &own)],
            &[("sec-fetch-site", "cross-site")],
        ] {
            let answer = house.post_with(path, &fields, stranger).await;
            assert_eq!(answer.status, 403, "{path} {stranger:?}");
            assert!(answer.body.ends_with(".\n"), "{}", answer.body);
        }
    }
    assert_eq!(house.heads(), heads);
    // Its own pages are believed, whichever way they say so.
    for own in [[("sec-fetch-site", "same-origin")], [("origin", own.as_str())]] {
        assert_eq!(house.post_with("/money", &[("show", "no"), ("back", "/")], &own).await.status, 303);
    }
}

#[tokio::test]
async fn what_a_form_does_is_not_done_by_asking_nor_the_other_way_round() {
    let (house, number) = House::lived_in();
    let heads = house.heads();
    let of_job = [
        "say",
        "note",
        "decide",
        "go-on",
        "photograph",
        "entry/1/correct",
        "entry/1/strike",
        "entry/1/withhold",
    ];
    let mut forms: Vec<String> =
        of_job.iter().map(|path| format!("/job/{number}/{path}?line=note+a&draft=d")).collect();
    forms.extend(["/jobs?title=a", "/money?show=no&back=/", "/take-in"].map(str::to_owned));
    for path in forms {
        house.get(&path).await.trouble(405);
    }
    for path in [
        "/",
        "/find",
        "/style.css",
        &format!("/job/{number}"),
        &format!("/job/{number}/piece"),
        &format!("/job/{number}/lines"),
    ] {
        house.post(path, &[]).await.trouble(405);
        for method in [Method::PUT, Method::DELETE, Method::PATCH] {
            let request =
                Request::builder().method(method).uri(path).header("host", format!("127.0.0.1:{PORT}"));
            assert_eq!(house.ask(request.body(Body::empty()).unwrap()).await.status, 405, "{path}");
        }
    }
    assert_eq!(house.heads(), heads);
}
