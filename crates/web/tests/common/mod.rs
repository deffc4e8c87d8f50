//! Pages asked for as a browser on this machine asks, without a port being opened.

#![allow(dead_code, reason = "each test program uses some of it")]

pub(crate) mod page;

use std::sync::Arc;

use asfound_acts::{NewJob, Said, Workshop};
use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, Method, Request, StatusCode, header};
use tempfile::TempDir;
use tower::ServiceExt;

/// The port that the pages believe they are served on.
pub(crate) const PORT: u16 = 8726;

/// What came back.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) status: StatusCode,
    pub(crate) headers: HeaderMap,
    pub(crate) body: String,
}

impl Answer {
    /// Where a redirect leads.
    pub(crate) fn to(&self) -> &str {
        assert_eq!(self.status, StatusCode::SEE_OTHER, "{}", self.body);
        self.headers[header::LOCATION].to_str().unwrap()
    }

    /// The sentence of a page of trouble, which must be one and must come with this status.
    pub(crate) fn trouble(&self, status: u16) -> String {
        assert_eq!(self.status.as_u16(), status, "{}", self.body);
        let page = page::Page::read(&self.body);
        let sentence = page.text_of("role", "alert");
        assert!(sentence.ends_with('.'), "no sentence: {sentence}");
        sentence
    }
}

/// A workshop and its pages.
pub(crate) struct House {
    pub(crate) workshop: Arc<Workshop>,
    router: Router,
    home: TempDir,
}

impl House {
    pub(crate) fn new() -> House {
        let home = tempfile::tempdir().unwrap();
        let clock = Box::new(|| "2026-11-25T09:00:00+01:00".to_owned());
        let workshop =
            Workshop::start_with_clock(&home.path().join("w"), "A bench of my own", clock).unwrap();
        let workshop = Arc::new(workshop);
        House { router: asfound_web::pages(Arc::clone(&workshop), PORT), workshop, home }
    }

    pub(crate) fn open(&self, title: &str) -> String {
        self.workshop.open_job(&NewJob { title: title.to_owned(), ..NewJob::default() }).unwrap()
    }

    pub(crate) fn say(&self, number: &str, line: &str) -> u64 {
        let draft = self.workshop.draft_id().unwrap();
        match self.workshop.say(number, line, &draft).unwrap() {
            Said::Kept { seq, .. } => seq,
            Said::NotHeard(error) => panic!("{line}: {error:?}"),
        }
    }

    /// A house with one job that has something on every page.
    pub(crate) fn lived_in() -> (House, String) {
        let house = House::new();
        let number = house.open("Short-scale bass, two coils");
        for line in [
            "part neck coil, coil, neck",
            "part bridge coil, coil, bridge",
            "neck coil 6k31 21C",
            "bridge coil 4k67",
            "neck coil: tape dry and brown",
            "piece: smells of damp",
            "did neck coil: dusted",
            "coil neck 7k2",
            "pot volume 500k audio",
            "jack jack",
            "join neck.hot volume.3 metered 0.4",
            "join neck.ground volume.1 metered",
            "join volume.2 jack.tip metered",
            "join volume.1 jack.sleeve or nothing unknown",
        ] {
            house.say(&number, line);
        }
        house
            .workshop
            .keep_photograph(&number, "a.jpg", &photograph(), Some("P1"), "the coil", None)
            .unwrap();
        (house, number)
    }

    pub(crate) fn home(&self) -> &std::path::Path {
        self.home.path()
    }

    pub(crate) async fn ask(&self, request: Request<Body>) -> Answer {
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (head, body) = response.into_parts();
        let body = axum::body::to_bytes(body, usize::MAX).await.unwrap();
        let body = String::from_utf8_lossy(&body).into_owned();
        Answer { status: head.status, headers: head.headers, body }
    }

    pub(crate) async fn get(&self, path: &str) -> Answer {
        self.get_with(path, &[]).await
    }

    pub(crate) async fn get_with(&self, path: &str, more: &[(&str, &str)]) -> Answer {
        self.ask(request(Method::GET, path, more).body(Body::empty()).unwrap()).await
    }

    pub(crate) async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.post_with(path, fields, &[("origin", &format!("http://127.0.0.1:{PORT}"))]).await
    }

    pub(crate) async fn post_with(
        &self,
        path: &str,
        fields: &[(&str, &str)],
        more: &[(&str, &str)],
    ) -> Answer {
        let body: Vec<String> =
            fields.iter().map(|(name, value)| format!("{name}={}", escaped(value))).collect();
        let request = request(Method::POST, path, more)
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
            .body(Body::from(body.join("&")));
        self.ask(request.unwrap()).await
    }

    /// Sends a form with files. A field with a file name is a file.
    pub(crate) async fn post_files(&self, path: &str, fields: &[(&str, Option<&str>, &[u8])]) -> Answer {
        let mut body = Vec::new();
        for (name, file, bytes) in fields {
            let file = file.map(|file| format!("; filename=\"{file}\"")).unwrap_or_default();
            body.extend(
                format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"{file}\r\n\r\n").bytes(),
            );
            body.extend(*bytes);
            body.extend(b"\r\n");
        }
        body.extend(b"--edge--\r\n");
        let request = request(Method::POST, path, &[("sec-fetch-site", "same-origin")])
            .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge")
            .body(Body::from(body));
        self.ask(request.unwrap()).await
    }

    /// The heads of the workshop's chain and of its jobs' chains: whatever is kept moves one of them.
    pub(crate) fn heads(&self) -> Vec<String> {
        let about = self.workshop.about().unwrap();
        let mut heads = vec![format!("{:?}", about.head)];
        let numbers = about.jobs.iter().map(|item| &item.body.number);
        heads.extend(numbers.map(|number| format!("{:?}", self.workshop.lines(number).unwrap().1)));
        heads
    }
}

fn request(method: Method, path: &str, more: &[(&str, &str)]) -> axum::http::request::Builder {
    let mut request = Request::builder().method(method).uri(path);
    if !more.iter().any(|(name, _)| *name == "host") {
        request = request.header(header::HOST, format!("127.0.0.1:{PORT}"));
    }
    more.iter().fold(request, |request, (name, value)| request.header(*name, *value))
}

pub(crate) fn escaped(text: &str) -> String {
    let sign = |byte: u8| {
        if byte.is_ascii_alphanumeric() { (byte as char).to_string() } else { format!("%{byte:02X}") }
    };
    text.bytes().map(sign).collect()
}

pub(crate) fn photograph() -> Vec<u8> {
    let picture = image::RgbImage::from_fn(60, 40, |x, y| image::Rgb([(x * 4) as u8, (y * 6) as u8, 90]));
    let mut out = Vec::new();
    picture.write_with_encoder(image::codecs::jpeg::JpegEncoder::new_with_quality(&mut out, 90)).unwrap();
    out
}

/// Every page that a job has, and those of the bench.
pub(crate) fn all_pages(number: &str, entries: u64) -> Vec<String> {
    let mut pages = vec!["/".to_owned(), "/find?words=coil".to_owned()];
    let of_job = ["piece", "parts", "readings", "wiring", "dates", "originality", "plan", "history"];
    pages.extend(of_job.iter().map(|page| format!("/job/{number}/{page}")));
    pages.extend((0..entries).map(|seq| format!("/job/{number}/entry/{seq}")));
    pages.push(format!("/job/{number}/piece?line=neck+coil+6k32&kept=1"));
    pages
}
