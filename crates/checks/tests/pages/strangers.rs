//! Who is not answered: a page on the network that points a name at this machine, and a form that comes from one.

use std::sync::Arc;

use crate::browser::Browser;
use crate::house::House;
use crate::plain::ask;

pub(crate) async fn strangers_are_refused(house: Arc<House>, _: Arc<Browser>) {
    let port = house.port;
    let get = |host: &str| ask(port, "GET", "/", &[("Host", host)], "");
    for own in [format!("127.0.0.1:{port}"), format!("localhost:{port}"), format!("[::1]:{port}")] {
        assert_eq!(get(&own).status, 200, "{own} is this machine's own name");
    }
    for foreign in ["workshop.example", "127.0.0.1", "127.0.0.1:1", "localhost.example:8726", ""] {
        let answer = get(foreign);
        assert!(matches!(answer.status, 400 | 421), "Host {foreign:?} got {}", answer.status);
        assert!(!answer.body.contains("26-014"), "Host {foreign:?} was told of a job");
    }

    let kind = ("Content-Type", "application/x-www-form-urlencoded");
    let own = format!("http://127.0.0.1:{port}");
    let post = |path: &str, more: &[(&str, &str)]| {
        let headers: Vec<_> = [kind].into_iter().chain(more.iter().copied()).collect();
        ask(
            port,
            "POST",
            path,
            &headers,
            "title=From+a+stranger&step=x&words=x&decision=done&line=note+x&draft=x&show=no&back=/",
        )
    };
    let paths = [
        "/jobs",
        "/money",
        "/job/26-014/say",
        "/job/26-014/note",
        "/job/26-014/decide",
        "/job/26-014/entry/1/strike",
    ];
    for path in paths {
        for stranger in [
            [("Origin", "http://workshop.example")].as_slice(),
            &[("Origin", "null")],
            &[("Sec-Fetch-Site", "cross-site"), ("Origin", own.as_str())],
            &[("Sec-Fetch-Site", "same-site"), ("Origin", own.as_str())],
        ] {
            let answer = post(path, stranger);
            assert_eq!(answer.status, 403, "{path} from {stranger:?} got {}: {}", answer.status, answer.head);
        }
    }
    let bench = ask(port, "GET", "/", &[], "").body;
    assert!(!bench.contains("From a stranger"), "a stranger's form opened a job");

    // What changes something is never done by asking.
    for path in paths {
        let status = ask(port, "GET", path, &[], "").status;
        assert!(matches!(status, 404 | 405), "GET {path} got {status}");
    }
    let headers = ask(port, "GET", "/", &[], "").head.to_ascii_lowercase();
    for sign in [
        "content-security-policy: default-src 'self'",
        "x-content-type-options: nosniff",
        "referrer-policy: same-origin",
    ] {
        assert!(headers.contains(sign), "no {sign} in {headers}");
    }
}
