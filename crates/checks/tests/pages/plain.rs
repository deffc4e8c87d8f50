//! A request as anybody on this machine can send it, with any header: what a browser would refuse to send.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;

/// What came back.
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) head: String,
    pub(crate) body: String,
}

/// Sends one request to this machine. Without a `Host` among the headers, the address itself is named.
pub(crate) fn ask(port: u16, method: &str, path: &str, headers: &[(&str, &str)], body: &str) -> Answer {
    let mut request =
        format!("{method} {path} HTTP/1.1\r\nConnection: close\r\nContent-Length: {}\r\n", body.len());
    if !headers.iter().any(|(name, _)| *name == "Host") {
        request.push_str(&format!("Host: 127.0.0.1:{port}\r\n"));
    }
    for (name, value) in headers {
        request.push_str(&format!("{name}: {value}\r\n"));
    }
    let mut stream = TcpStream::connect(("127.0.0.1", port)).expect("the port is open");
    stream.write_all(format!("{request}\r\n{body}").as_bytes()).expect("the request is taken");
    answer(BufReader::new(stream))
}

fn answer(mut reader: BufReader<TcpStream>) -> Answer {
    let mut head = String::new();
    loop {
        let mut line = String::new();
        let read = reader.read_line(&mut line).expect("the answer's head is text");
        if read == 0 || line.trim().is_empty() {
            break;
        }
        head.push_str(&line);
    }
    let status = head.split_whitespace().nth(1).and_then(|word| word.parse().ok()).unwrap_or_default();
    let length = head.lines().find_map(|line| {
        line.to_ascii_lowercase().strip_prefix("content-length:").and_then(|text| text.trim().parse().ok())
    });
    let mut body = Vec::new();
    match length {
        Some(length) => reader.take(length).read_to_end(&mut body),
        None => reader.read_to_end(&mut body),
    }
    .expect("the answer's body arrives");
    Answer { status, head, body: String::from_utf8_lossy(&body).into_owned() }
}

/// Sends a form, as a page of our own sends it.
pub(crate) fn form(port: u16, path: &str, fields: &[(&str, &str)]) -> Answer {
    let body: Vec<String> = fields.iter().map(|(name, value)| format!("{name}={}", escaped(value))).collect();
    let origin = format!("http://127.0.0.1:{port}");
    let headers = [("Content-Type", "application/x-www-form-urlencoded"), ("Origin", origin.as_str())];
    ask(port, "POST", path, &headers, &body.join("&"))
}

fn escaped(text: &str) -> String {
    let sign = |byte: u8| {
        if byte.is_ascii_alphanumeric() { (byte as char).to_string() } else { format!("%{byte:02X}") }
    };
    text.bytes().map(sign).collect()
}
