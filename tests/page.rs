//! Opens the page of a trip in a headless Chromium, as a phone or a desk would, and looks at what happens.
//!
//! Needs Chromium (Debian: `apt-get install chromium`), or its path in `CHROMIUM`. A machine that has none says so and tests
//! nothing here, unless `CI` is set: the gate installs it, and there its absence is a failure.

use std::error::Error;
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use takeline_report::{TrackInput, TrackReport, track_page};
use tempfile::TempDir;
use tungstenite::{Message, WebSocket};

#[path = "../crates/report/examples/marrowick_page/trip.rs"]
mod trip;

type Outcome<T> = Result<T, Box<dyn Error>>;

const PATIENCE: Duration = Duration::from_mins(1);

/// A browser that ends with the test, the page open in it, and everything that it reported.
struct Browser {
    process: Child,
    socket: WebSocket<TcpStream>,
    session: Option<String>,
    last_id: u64,
    events: Vec<Value>,
    address: String,
    _folder: TempDir,
}

impl Drop for Browser {
    fn drop(&mut self) {
        // it may have ended by itself
        let _ended = self.process.kill().and_then(|()| self.process.wait());
    }
}

fn chromium() -> PathBuf {
    std::env::var_os("CHROMIUM").map_or_else(|| PathBuf::from("/usr/bin/chromium"), PathBuf::from)
}

/// Whether there is no browser to test with; in the gate that is a failure.
fn left_out() -> bool {
    let path = chromium();
    if path.exists() {
        return false;
    }
    let mend = format!(
        "there is no {}; install the package `chromium`, or give its path in CHROMIUM",
        path.display()
    );
    assert!(std::env::var_os("CI").is_none(), "{mend}");
    #[expect(clippy::print_stderr, reason = "whoever runs the tests has to know that these did not")]
    {
        eprintln!("not tested: {mend}");
    }
    true
}

/// The port and path that the browser listens on, once it has written them down.
fn listening(profile: &Path, process: &mut Child) -> Outcome<(u16, String)> {
    let begun = Instant::now();
    while begun.elapsed() < PATIENCE {
        let text = std::fs::read_to_string(profile.join("DevToolsActivePort")).unwrap_or_default();
        if let Some((port, path)) = text.split_once('\n').filter(|(_, path)| !path.is_empty()) {
            return Ok((port.parse()?, path.trim().to_owned()));
        }
        if let Some(status) = process.try_wait()? {
            return Err(format!("chromium ended at once: {status}").into());
        }
        std::thread::sleep(Duration::from_millis(50));
    }
    Err("chromium did not open its port for the test".into())
}

impl Browser {
    fn open(width: u32, height: u32, scripts: bool) -> Outcome<Self> {
        let folder = tempfile::tempdir()?;
        let file = folder.path().join("page.html");
        std::fs::write(&file, page()?)?;
        let profile = folder.path().join("profile");
        let mut process = Command::new(chromium())
            .args([
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-dev-shm-usage",
                "--no-first-run",
            ])
            .args(["--disable-background-networking", "--disable-component-update", "--disable-sync"])
            .args(["--remote-debugging-port=0", "about:blank"])
            .arg(format!("--user-data-dir={}", profile.display()))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()?;
        let found = listening(&profile, &mut process);
        let connected = found.and_then(|(port, path)| {
            let stream = TcpStream::connect(("127.0.0.1", port))?;
            stream.set_read_timeout(Some(PATIENCE))?;
            let (socket, _) = tungstenite::client(format!("ws://127.0.0.1:{port}{path}"), stream)?;
            Ok(socket)
        });
        let socket = match connected {
            Ok(socket) => socket,
            Err(error) => {
                process.kill()?;
                process.wait()?;
                return Err(error);
            }
        };
        let mut browser = Self {
            process,
            socket,
            session: None,
            last_id: 0,
            events: Vec::new(),
            address: format!("file://{}", file.display()),
            _folder: folder,
        };
        browser.show(width, height, scripts)?;
        Ok(browser)
    }

    fn show(&mut self, width: u32, height: u32, scripts: bool) -> Outcome<()> {
        let target = self.send("Target.createTarget", &json!({ "url": "about:blank" }))?;
        let attach = json!({ "targetId": target["targetId"], "flatten": true });
        let attached = self.send("Target.attachToTarget", &attach)?;
        self.session = attached["sessionId"].as_str().map(str::to_owned);
        for domain in ["Runtime", "Log", "Network", "Page"] {
            self.send(&format!("{domain}.enable"), &json!({}))?;
        }
        let screen =
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600 });
        self.send("Emulation.setDeviceMetricsOverride", &screen)?;
        self.send("Emulation.setScriptExecutionDisabled", &json!({ "value": !scripts }))?;
        let address = self.address.clone();
        self.send("Page.navigate", &json!({ "url": address }))?;
        while !self.events.iter().any(|event| event["method"] == "Page.loadEventFired") {
            self.receive()?;
        }
        Ok(())
    }

    /// Sends a command and waits for its answer; events that come in between are kept.
    fn send(&mut self, method: &str, params: &Value) -> Outcome<Value> {
        self.last_id += 1;
        let mut command = json!({ "id": self.last_id, "method": method, "params": params });
        if let Some(session) = &self.session {
            command["sessionId"] = json!(session);
        }
        self.socket.send(Message::text(command.to_string()))?;
        loop {
            let answer = self.receive()?;
            if answer["id"] == self.last_id {
                return match answer.get("error") {
                    Some(error) => Err(format!("{method}: {error}").into()),
                    None => Ok(answer["result"].clone()),
                };
            }
        }
    }

    fn receive(&mut self) -> Outcome<Value> {
        let message: Value = serde_json::from_str(self.socket.read()?.to_text()?)?;
        if message.get("method").is_some() {
            self.events.push(message.clone());
        }
        Ok(message)
    }

    /// What an expression is, on the page.
    fn ask(&mut self, expression: &str) -> Outcome<Value> {
        let answer =
            self.send("Runtime.evaluate", &json!({ "expression": expression, "returnByValue": true }))?;
        if let Some(fault) = answer.get("exceptionDetails") {
            return Err(format!("{expression}: {fault}").into());
        }
        Ok(answer["result"]["value"].clone())
    }

    /// Moves the pointer to a share of the width and height of an element.
    fn point_at(&mut self, id: &str, across: f64, down: f64) -> Outcome<()> {
        self.ask(&format!("document.getElementById('{id}').scrollIntoView({{ block: 'center' }})"))?;
        let frame = self.ask(&format!(
            "(r => [r.x, r.y, r.width, r.height])(document.getElementById('{id}').getBoundingClientRect())"
        ))?;
        let side = |number: usize| frame[number].as_f64().ok_or("no frame");
        let (x, y) = (side(0)? + across * side(2)?, side(1)? + down * side(3)?);
        self.send("Input.dispatchMouseEvent", &json!({ "type": "mouseMoved", "x": x, "y": y }))?;
        Ok(())
    }

    fn press(&mut self, key: &str) -> Outcome<()> {
        let code = if key == "ArrowRight" { 39 } else { 36 };
        for kind in ["keyDown", "keyUp"] {
            let event = json!({ "type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code });
            self.send("Input.dispatchKeyEvent", &event)?;
        }
        Ok(())
    }

    /// Cursor of the map, cursor of the plot, the slider and what is said.
    fn state(&mut self) -> Outcome<(String, String, String, String)> {
        let state = self.ask(
            "[...['map-cursor', 'plot-cursor'].map(id => document.getElementById(id)).map(c => \
             `${getComputedStyle(c).visibility} ${c.getAttribute('cx')} ${c.getAttribute('cy')}`), \
             document.getElementById('step').value, document.getElementById('said').textContent]",
        )?;
        let text = |number: usize| state[number].as_str().unwrap_or_default().to_owned();
        Ok((text(0), text(1), text(2), text(3)))
    }

    /// Nothing was complained of and nothing but the page itself was asked for.
    fn was_quiet(&self) {
        let complaints: Vec<&Value> = self
            .events
            .iter()
            .filter(|event| {
                let level = event["params"]["entry"]["level"].as_str();
                event["method"] == "Runtime.exceptionThrown"
                    || event["method"] == "Runtime.consoleAPICalled"
                    || (event["method"] == "Log.entryAdded" && level != Some("verbose"))
            })
            .collect();
        assert!(complaints.is_empty(), "{complaints:#?}");
        let asked: Vec<&str> = self
            .events
            .iter()
            .filter(|event| event["method"] == "Network.requestWillBeSent")
            .filter_map(|event| event["params"]["request"]["url"].as_str())
            .filter(|url| *url != self.address && *url != "about:blank")
            .collect();
        assert!(asked.is_empty(), "the page asked for {asked:?}");
    }
}

fn page() -> Outcome<String> {
    let (zones, audit) = trip::marrowick_trip()?;
    Ok(track_page(&TrackReport {
        audit: &audit,
        zones: &zones,
        input: TrackInput { path: "sallow-cove.gpx", sha256: &"3f5a".repeat(16) },
        program_version: "0.0.0",
        catches: None,
    })?)
}

#[test]
fn map_plot_and_slider_follow_each_other_on_a_desk() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let mut browser = Browser::open(1280, 900, true)?;
    let first = browser.state()?;
    assert!(first.0.starts_with("visible ") && first.1.starts_with("visible "), "{first:?}");

    browser.point_at("plot", 0.55, 0.5)?;
    let by_plot = browser.state()?;
    assert_ne!(by_plot.0, first.0, "the map follows the plot");
    assert_ne!(by_plot.2, first.2, "the slider follows the plot");
    assert!(by_plot.3.contains("Sallow Cove Reserve"), "{by_plot:?}");

    browser.point_at("map", 0.62, 0.75)?;
    let by_map = browser.state()?;
    assert_ne!(by_map.1, by_plot.1, "the plot follows the map");

    browser.ask("document.getElementById('step').focus()")?;
    browser.press("ArrowRight")?;
    let by_key = browser.state()?;
    assert_eq!(by_key.2.parse::<u32>()?, by_map.2.parse::<u32>()? + 1, "an arrow key goes one fix on");
    assert_ne!(by_key.0, by_map.0, "the map follows the keys");
    browser.was_quiet();
    Ok(())
}

#[test]
fn a_phone_shows_all_of_it_without_scrolling_sideways() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let mut browser = Browser::open(360, 780, true)?;
    assert_eq!(browser.ask("document.documentElement.scrollWidth")?, 360);
    for part in [
        "#map .line",
        "#map .doubt",
        "#map .way.certain",
        "#map .way.gap",
        "#map .reachable path",
        "#map .tick",
    ] {
        let drawn = browser.ask(&format!(
            "[...document.querySelectorAll('{part}')].some(e => {{ const r = e.getBoundingClientRect(); \
             return r.width + r.height > 0; }})"
        ))?;
        assert_eq!(drawn, true, "{part} is not drawn");
    }
    let letters = browser.ask(
        "Math.min(...[...document.querySelectorAll('#map text')].map(e => e.getBoundingClientRect().height))",
    )?;
    assert!(letters.as_f64().unwrap_or(0.0) >= 9.0, "letters {letters} px high");
    browser.was_quiet();
    Ok(())
}

#[test]
fn without_scripts_nothing_is_missing_but_the_slider() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let mut browser = Browser::open(390, 844, false)?;
    assert_eq!(browser.ask("document.getElementById('walk').hidden")?, true);
    assert_eq!(browser.ask("document.getElementById('map').getBoundingClientRect().height > 200")?, true);
    let text = browser.ask("document.body.innerText")?;
    let text = text.as_str().unwrap_or_default();
    for part in ["Sallow Cove Reserve", "Crossings of a line", "The log itself", "SHA-256", "Top speed"] {
        assert!(text.contains(part), "the text lacks {part}");
    }
    browser.was_quiet();
    Ok(())
}
