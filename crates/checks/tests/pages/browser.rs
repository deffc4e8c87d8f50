//! A browser that a test holds: one window with an empty profile, driven the way a hand does it.

use std::time::Duration;

use asfound_checks::root;
use fantoccini::elements::Element;
use fantoccini::wd::Capabilities;
use fantoccini::{Client, ClientBuilder, Locator};
use serde_json::{Value, json};
use tempfile::TempDir;

use crate::house::{House, installed};
use crate::plain;

/// The longest that a page may take to show something before a test is lost. No test waits for it where all is well.
const PATIENCE: Duration = Duration::from_secs(60);

/// One window.
pub(crate) struct Browser {
    client: Client,
    session: String,
    driver: u16,
    served: u16,
    _profile: TempDir,
}

impl Browser {
    /// Opens a window with an empty profile.
    pub(crate) async fn open(house: &House) -> Browser {
        let profile = tempfile::tempdir().expect("a folder for the browser's profile");
        let wanted = capabilities(&profile);
        let driver = house.driver_port;
        let client = ClientBuilder::new(hyper_util::client::legacy::connect::HttpConnector::new())
            .capabilities(wanted)
            .connect(&format!("http://127.0.0.1:{driver}"))
            .await
            .expect("Chromium could not be started by chromedriver: are both of the same release?");
        let session = client.session_id().await.expect("a session").expect("a session has an id");
        Browser { client, session, driver, served: house.port, _profile: profile }
    }

    pub(crate) async fn close(self) {
        self.client.close().await.expect("the window closes");
    }

    /// The whole address of a page of the workshop.
    pub(crate) fn address(&self, path: &str) -> String {
        format!("http://127.0.0.1:{}{path}", self.served)
    }

    /// Goes to a page of the workshop.
    pub(crate) async fn go(&self, path: &str) {
        self.client.goto(&self.address(path)).await.unwrap_or_else(|error| panic!("{path}: {error}"));
    }

    /// The path of the page shown now.
    pub(crate) async fn path(&self) -> String {
        self.client.current_url().await.expect("a page has an address").path().to_owned()
    }

    pub(crate) async fn back(&self) {
        self.client.back().await.expect("the browser goes back");
    }

    /// The element once it is there. The XPath says what is waited for, with its words.
    pub(crate) async fn see(&self, xpath: &str) -> Element {
        let wait = self.client.wait().at_most(PATIENCE).every(Duration::from_millis(20));
        match wait.for_element(Locator::XPath(xpath)).await {
            Ok(element) => element,
            Err(error) => panic!("waited for {xpath}, and the page shows:\n{}\n{error}", self.text().await),
        }
    }

    /// Presses what is there, or comes.
    pub(crate) async fn press(&self, xpath: &str) {
        loop {
            match self.see(xpath).await.click().await {
                Ok(()) => return,
                // The script drew it anew between the look and the press; a hand would press the new one.
                Err(error) if error.is_stale_element_reference() => {}
                Err(error) => panic!("pressing {xpath}: {error}"),
            }
        }
    }

    /// Presses a place in the window, in CSS pixels from its upper left corner.
    pub(crate) fn press_place(&self, x: i64, y: i64) {
        for (kind, buttons) in [("mouseMoved", 0), ("mousePressed", 1), ("mouseReleased", 0)] {
            let event = json!({ "type": kind, "x": x, "y": y, "button": "left", "buttons": buttons, "clickCount": 1 });
            self.devtools("Input.dispatchMouseEvent", event);
        }
    }

    /// Presses the button with these words.
    pub(crate) async fn press_button(&self, words: &str) {
        self.press(&format!("//button[normalize-space()='{words}']")).await;
    }

    /// Types into a field that is there, or comes, over what stands in it.
    pub(crate) async fn write(&self, xpath: &str, text: &str) {
        let element = self.see(xpath).await;
        element.clear().await.unwrap_or_else(|error| panic!("clearing {xpath}: {error}"));
        element.send_keys(text).await.unwrap_or_else(|error| panic!("typing into {xpath}: {error}"));
    }

    /// Adds keys to a field as it stands; a file field takes a path.
    pub(crate) async fn keys(&self, xpath: &str, keys: &str) {
        let element = self.see(xpath).await;
        element.send_keys(keys).await.unwrap_or_else(|error| panic!("typing into {xpath}: {error}"));
    }

    /// The page's words.
    pub(crate) async fn text(&self) -> String {
        self.look("return document.body.innerText").await.as_str().unwrap_or_default().to_owned()
    }

    /// What the page's script answers.
    pub(crate) async fn look(&self, script: &str) -> Value {
        self.client.execute(script, Vec::new()).await.unwrap_or_else(|error| panic!("{script}: {error}"))
    }

    /// What the page's script hands to its last argument, once it does.
    pub(crate) async fn look_long(&self, script: &str, arguments: Vec<Value>) -> Value {
        self.client.execute_async(script, arguments).await.unwrap_or_else(|error| panic!("{script}: {error}"))
    }

    /// Whether a box of the browser itself stands over the page.
    pub(crate) async fn alerts(&self) -> bool {
        self.client.get_alert_text().await.is_ok()
    }

    /// Sets how wide and high the window is, in CSS pixels.
    pub(crate) async fn size(&self, width: u32, height: u32) {
        let metrics = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.devtools("Emulation.setDeviceMetricsOverride", metrics);
        let script = format!("return innerWidth === {width} && innerHeight === {height}");
        while self.look(&script).await != Value::Bool(true) {
            tokio::task::yield_now().await;
        }
    }

    /// Asks for light or dark pages, as a person sets it on the device.
    pub(crate) fn scheme(&self, scheme: &str) {
        let wanted = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.devtools("Emulation.setEmulatedMedia", wanted);
    }

    /// Switches scripts of pages off.
    pub(crate) fn without_script(&self) {
        self.devtools("Emulation.setScriptExecutionDisabled", json!({ "value": true }));
    }

    /// One command of the browser's own protocol, as chromedriver passes it on.
    fn devtools(&self, command: &str, parameters: Value) {
        self.driver_post("goog/cdp/execute", &json!({ "cmd": command, "params": parameters }));
    }

    /// What the browser wrote since it was asked last: `browser` for its console, `performance` for its requests.
    pub(crate) fn log(&self, kind: &str) -> Vec<Value> {
        let answer = self.driver_post("se/log", &json!({ "type": kind }));
        answer["value"].as_array().cloned().unwrap_or_default()
    }

    fn driver_post(&self, command: &str, body: &Value) -> Value {
        let path = format!("/session/{}/{command}", self.session);
        let headers = [("Content-Type", "application/json")];
        let answer = plain::ask(self.driver, "POST", &path, &headers, &body.to_string());
        assert_eq!(answer.status, 200, "{command}: {}", answer.body);
        serde_json::from_str(&answer.body).expect("chromedriver answers JSON")
    }

    /// Keeps a picture of the window for people to look at, under `target/check/screens`.
    pub(crate) async fn picture(&self, name: &str) {
        let folder = root().join("target/check/screens");
        std::fs::create_dir_all(&folder).expect("a folder for the pictures");
        let bytes = self.client.screenshot().await.expect("a picture of the window");
        std::fs::write(folder.join(name).with_extension("png"), bytes).expect("the picture is written");
    }
}

fn capabilities(profile: &TempDir) -> Capabilities {
    let arguments = [
        "--headless".to_owned(),
        "--no-sandbox".to_owned(),
        "--disable-gpu".to_owned(),
        "--disable-dev-shm-usage".to_owned(),
        "--disable-quic".to_owned(),
        "--no-first-run".to_owned(),
        "--disable-background-networking".to_owned(),
        "--disable-component-update".to_owned(),
        "--disable-sync".to_owned(),
        "--hide-scrollbars".to_owned(),
        format!("--user-data-dir={}", profile.path().display()),
    ];
    let wanted = json!({
        "browserName": "chrome",
        "goog:chromeOptions": { "args": arguments, "binary": installed("chromium") },
        "goog:loggingPrefs": { "browser": "ALL", "performance": "ALL" },
        "timeouts": { "script": 60_000 },
    });
    wanted.as_object().cloned().expect("an object")
}
