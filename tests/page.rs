//! Opens the page of a trip, the card of a transit, and zones read back in a headless Chromium, as a phone, a desk or a printer would, and
//! looks at what happens.
//!
//! Needs Chromium (Debian: `apt-get install chromium`), or its path in `CHROMIUM`. A machine that has none says so and tests
//! nothing here, unless `CI` is set: the gate installs it, and there its absence is a failure.

use std::error::Error;
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use takeline::ZoneSet;
use takeline::landmark::Landmark;
use takeline::magnetic::{MagneticVariation, OutsideMagneticModel};
use takeline::transit::{ClearsReason, Problem, ProblemReason, RangeLine, TransitReport};
use takeline_report::words::English;
use takeline_report::{
    AuditInput, AuditReport, CardInput, InputKind, ShowDocument, TrackDocument, TransitDocument, show_page,
    track_page, transit_card, transit_sketch_svg,
};
use tempfile::TempDir;
use tungstenite::{Message, WebSocket};

#[path = "../crates/report/examples/marrowick_page/trip.rs"]
mod trip;

#[path = "../crates/report/examples/marrowick_card/marks.rs"]
mod marks;

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
        Self::open_file("page.html", &page()?, (width, height), scripts)
    }

    fn open_file(name: &str, content: &str, (width, height): (u32, u32), scripts: bool) -> Outcome<Self> {
        let folder = tempfile::tempdir()?;
        let file = folder.path().join(name);
        std::fs::write(&file, content)?;
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
        let code = match key {
            "ArrowRight" => 39,
            "+" => 187,
            "-" => 189,
            "0" => 48,
            _ => 36,
        };
        for kind in ["keyDown", "keyUp"] {
            let mut event = json!({ "type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code });
            if kind == "keyDown" && key.len() == 1 {
                event["text"] = json!(key);
            }
            self.send("Input.dispatchKeyEvent", &event)?;
        }
        Ok(())
    }

    /// Where a share of the width and height of an element lies on the screen.
    fn place_of(&mut self, id: &str, (across, down): (f64, f64)) -> Outcome<(f64, f64)> {
        let frame = self.ask(&format!(
            "(r => [r.x, r.y, r.width, r.height])(document.getElementById('{id}').getBoundingClientRect())"
        ))?;
        let side = |number: usize| frame[number].as_f64().ok_or("no frame");
        Ok((side(0)? + across * side(2)?, side(1)? + down * side(3)?))
    }

    fn touch(&mut self, kind: &str, points: &[(f64, f64)]) -> Outcome<()> {
        let points: Vec<Value> =
            (0..).zip(points).map(|(id, (x, y))| json!({ "x": x, "y": y, "id": id })).collect();
        self.send("Input.dispatchTouchEvent", &json!({ "type": kind, "touchPoints": points }))?;
        Ok(())
    }

    /// How many times as large as at first the map is drawn, and where its corner lies.
    fn view(&mut self) -> Outcome<(f64, f64, f64)> {
        let view = self.ask("(m => [m.a, m.e, m.f])(document.getElementById('moving').transform.baseVal.consolidate().matrix)")?;
        let number = |place: usize| view[place].as_f64().ok_or("no view");
        Ok((number(0)?, number(1)?, number(2)?))
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

    /// How many pages it prints on sheets of so many inches, with the margins that its style asks for.
    fn pages_printed(&mut self, width_in: f64, height_in: f64) -> Outcome<usize> {
        let sheet = json!({ "paperWidth": width_in, "paperHeight": height_in, "printBackground": true });
        let printed = self.send("Page.printToPDF", &sheet)?;
        let pdf = from_base64(printed["data"].as_str().ok_or("no PDF")?);
        let text = String::from_utf8_lossy(&pdf);
        // every page is an object of this type; their list is of the type Pages
        Ok(text.matches("/Type /Page\n").count())
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

/// Bytes from base 64 (RFC 4648, section 4).
fn from_base64(text: &str) -> Vec<u8> {
    let digit = |letter: u8| match letter {
        b'A'..=b'Z' => Some(letter - b'A'),
        b'a'..=b'z' => Some(letter - b'a' + 26),
        b'0'..=b'9' => Some(letter - b'0' + 52),
        b'+' => Some(62),
        b'/' => Some(63),
        _ => None,
    };
    let digits: Vec<u32> = text.bytes().filter_map(digit).map(u32::from).collect();
    let mut bytes = Vec::with_capacity(digits.len() * 3 / 4);
    for group in digits.chunks(4) {
        let bits = group.iter().fold(0, |bits, digit| bits << 6 | digit) << (6 * (4 - group.len()));
        bytes.extend(bits.to_be_bytes().into_iter().skip(1).take(group.len() - 1));
    }
    bytes
}

fn page() -> Outcome<String> {
    page_of(|_| {})
}

/// The page of a trip in which something was changed.
fn page_of(change: impl FnOnce(&mut takeline::track::Audit)) -> Outcome<String> {
    let (zones, mut audit) = trip::marrowick_trip()?;
    change(&mut audit);
    let report = AuditReport {
        input: AuditInput {
            path: "sallow-cove.gpx".to_owned(),
            sha256: Some("3f5a".repeat(16)),
            kind: InputKind::Log,
        },
        audit: &audit,
        zones: &zones,
        notes: Vec::new(),
        catches: None,
        catch_rows_unread: 0,
        command: String::new(),
        trimmed: None,
    };
    Ok(track_page(&TrackDocument::of(&report, &English))?)
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
        "Math.min(...[...document.querySelectorAll('#map text')].filter(e => e.getClientRects().length > 0 && \
         getComputedStyle(e.parentElement).display !== 'none').map(e => e.getBoundingClientRect().height).filter(h => h > 0))",
    )?;
    assert!(letters.as_f64().unwrap_or(0.0) >= 9.0, "letters {letters} px high");
    browser.was_quiet();
    Ok(())
}

#[test]
fn keys_and_buttons_draw_the_map_larger_and_move_it() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let mut browser = Browser::open(1280, 900, true)?;
    assert_eq!(browser.view()?, (1.0, 0.0, 0.0));
    browser.ask("document.getElementById('map').focus()")?;
    browser.press("+")?;
    let (times, x, _) = browser.view()?;
    assert!((times - 1.5).abs() < 1e-6, "{times}");
    browser.press("ArrowRight")?;
    assert!(browser.view()?.1 < x, "an arrow key moves what is seen");
    browser.press("-")?;
    assert_eq!(browser.view()?, (1.0, 0.0, 0.0), "no water beyond the frame is shown");
    browser.press("+")?;
    browser.press("0")?;
    assert_eq!(browser.view()?, (1.0, 0.0, 0.0), "0 shows all again");
    for (button, times) in [("larger", 1.5), ("larger", 2.25), ("smaller", 1.5), ("whole", 1.0)] {
        assert_eq!(browser.ask(&format!("!!document.getElementById('{button}').ariaLabel"))?, true);
        browser.ask(&format!("document.getElementById('{button}').focus()"))?;
        browser.ask(&format!("document.getElementById('{button}').click()"))?;
        assert!((browser.view()?.0 - times).abs() < 1e-6, "{button}");
    }
    assert_eq!(browser.ask("document.getElementById('whole').disabled")?, true);
    browser.was_quiet();
    Ok(())
}

#[test]
fn labels_and_scale_keep_true_while_the_map_is_drawn_larger() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let mut browser = Browser::open(1280, 900, true)?;
    let height = "document.querySelector('#map .crossings text').getBoundingClientRect().height";
    // metres to a pixel, by the bar that is seen and by two places of the drawing
    let bar = "(() => { const bar = document.querySelector('#map .level:not(.off) .bar'); const w = [...bar.querySelectorAll('rect')] \
               .reduce((sum, r) => sum + r.getBoundingClientRect().width, 0); return parseFloat(bar.querySelector('text').textContent) / w; })()";
    let scale = "document.getElementById('moving').getScreenCTM().a";
    let (letters, per_pixel, drawn) =
        (browser.ask(height)?.as_f64(), browser.ask(bar)?.as_f64(), browser.ask(scale)?.as_f64());
    for _ in 0..5 {
        browser.ask("document.getElementById('larger').click()")?;
    }
    let near = |one: Option<f64>, other: Option<f64>| match (one, other) {
        (Some(one), Some(other)) => (one / other - 1.0).abs() < 0.02,
        _ => false,
    };
    assert!(near(browser.ask(height)?.as_f64(), letters), "labels keep their size");
    let grown = browser.ask(scale)?.as_f64().zip(drawn).map(|(now, before)| now / before);
    let finer = per_pixel.zip(browser.ask(bar)?.as_f64()).map(|(before, now)| before / now);
    assert!(near(grown, Some(1.5_f64.powi(5))) && near(grown, finer), "{grown:?} {finer:?}");
    browser.was_quiet();
    Ok(())
}

#[test]
fn wheel_and_mouse_move_the_map_and_hover_still_links_it_with_the_plot() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let mut browser = Browser::open(1280, 900, true)?;
    browser.point_at("map", 0.5, 0.4)?;
    let (x, y) = browser.place_of("map", (0.5, 0.4))?;
    let wheel = |modifiers: u8| json!({ "type": "mouseWheel", "x": x, "y": y, "deltaX": 0, "deltaY": -150, "modifiers": modifiers });
    let mouse = |kind: &str, x: f64, buttons: u8| {
        json!({ "type": kind, "x": x, "y": y, "button": if kind == "mouseMoved" { "none" } else { "left" },
                "buttons": buttons, "clickCount": 1 })
    };
    browser.send("Input.dispatchMouseEvent", &wheel(2))?;
    let (times, before, _) = browser.view()?;
    assert!(times > 1.2, "Ctrl and the wheel draw it larger: {times}");
    browser.send("Input.dispatchMouseEvent", &mouse("mousePressed", x, 1))?;
    browser.send("Input.dispatchMouseEvent", &mouse("mouseMoved", x - 30.0, 1))?;
    browser.send("Input.dispatchMouseEvent", &mouse("mouseReleased", x - 30.0, 0))?;
    assert!(browser.view()?.1 < before, "a drag moves it");
    let here = browser.state()?;
    browser.send("Input.dispatchMouseEvent", &mouse("mouseMoved", x + 200.0, 0))?;
    assert_ne!(browser.state()?.1, here.1, "the plot follows the pointer over the larger map");
    browser.was_quiet();
    Ok(())
}

#[test]
fn two_fingers_draw_the_map_larger_and_one_moves_it() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let mut browser = Browser::open(390, 844, true)?;
    browser.send("Emulation.setTouchEmulationEnabled", &json!({ "enabled": true, "maxTouchPoints": 2 }))?;
    browser.ask("document.getElementById('map').scrollIntoView({ block: 'center' })")?;
    let (x, y) = browser.place_of("map", (0.5, 0.4))?;
    browser.touch("touchStart", &[(x - 20.0, y), (x + 20.0, y)])?;
    for spread in [30.0, 40.0, 50.0, 60.0] {
        browser.touch("touchMove", &[(x - spread, y), (x + spread, y)])?;
    }
    browser.touch("touchEnd", &[])?;
    let (times, before, _) = browser.view()?;
    assert!((2.0..4.5).contains(&times), "two fingers three times as far apart: {times}");
    browser.touch("touchStart", &[(x, y)])?;
    browser.touch("touchMove", &[(x - 20.0, y)])?;
    browser.touch("touchMove", &[(x - 40.0, y)])?;
    browser.touch("touchEnd", &[])?;
    assert!(browser.view()?.1 < before - 20.0, "one finger drags it");
    assert_eq!(browser.ask("visualViewport.scale")?, 1, "the page keeps its size");
    browser.ask("document.getElementById('whole').click()")?;
    // a touch on the whole map shows what is known of the nearest fix
    let said = browser.state()?.3;
    let (x, y) = browser.place_of("map", (0.3, 0.2))?;
    browser.touch("touchStart", &[(x, y)])?;
    browser.touch("touchEnd", &[])?;
    assert_ne!(browser.state()?.3, said);
    browser.was_quiet();
    Ok(())
}

#[test]
fn words_of_a_map_do_not_lie_on_each_other() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    for (width, height) in [(390, 844), (1280, 900)] {
        let mut browser = Browser::open(width, height, true)?;
        assert_eq!(browser.ask(WORDS_THAT_MEET)?, json!([]), "at {width} pixels");
        for _ in 0..4 {
            browser.ask("document.getElementById('larger').click()")?;
        }
        assert_eq!(browser.ask(WORDS_THAT_MEET)?, json!([]), "at {width} pixels, five times as large");
    }
    Ok(())
}

#[test]
fn three_hundred_visits_leave_verdict_and_map_on_the_first_screen() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let page = page_of(|audit| audit.visits = audit.visits.iter().cycle().take(300).cloned().collect())?;
    for (width, height) in [(390, 844), (1280, 900)] {
        for scripts in [true, false] {
            let mut browser = Browser::open_file("page.html", &page, (width, height), scripts)?;
            assert_eq!(browser.ask("document.querySelectorAll('article').length")?, 300);
            for part in ["h1", "#map"] {
                let bottom = browser
                    .ask(&format!("document.querySelector('{part}').getBoundingClientRect().bottom"))?;
                assert!(
                    bottom.as_f64().ok_or("not there")? <= f64::from(height),
                    "{part} ends at {bottom} of {height}"
                );
            }
            browser.was_quiet();
        }
    }
    Ok(())
}

#[test]
fn without_scripts_nothing_is_missing_but_the_slider() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let mut browser = Browser::open(390, 844, false)?;
    assert_eq!(browser.ask("document.getElementById('walk').hidden")?, true);
    assert_eq!(browser.ask("document.getElementById('zoom').hidden")?, true, "no button that does nothing");
    assert_eq!(browser.ask("document.getElementById('map').getBoundingClientRect().height > 200")?, true);
    let text = browser.ask("document.body.innerText")?;
    let text = text.as_str().unwrap_or_default();
    for part in ["Sallow Cove Reserve", "Crossings", "The log itself", "SHA-256", "Top speed"] {
        assert!(text.contains(part), "the text lacks {part}");
    }
    browser.was_quiet();
    Ok(())
}

/// A5 and half of US Letter, in inches (ISO 216: 148 mm × 210 mm; ANSI/ASME Y14.1: Letter is 8.5 in × 11 in).
const HALF_SHEETS_IN: [(&str, f64, f64); 2] = [("A5", 148.0 / 25.4, 210.0 / 25.4), ("half letter", 5.5, 8.5)];

fn card((zones, report): &(ZoneSet, TransitReport)) -> Outcome<String> {
    let command = "takeline transit check --landmarks demo-data/landmarks.geojson --front day-beacon --rear lone-pine \
                   --near-m 100 --far-m 1400 --launch \"45.1170 -30.1190\" --zones demo-data/zones \
                   --time 2026-07-05T10:00:00Z --card card.html";
    let document = TransitDocument::new(report, &English);
    Ok(transit_card(&document, &CardInput { zones, command, program_version: "0.0.0" })?)
}

/// A time for which no variation is known, which takes as many words as a magnetic bearing does.
fn too_late() -> Outcome<OutsideMagneticModel> {
    Ok(OutsideMagneticModel { time: "2031-07-25T06:00:00Z".parse()?, model: MagneticVariation::MODEL })
}

/// The marks of Marrowick with more to say of them than half a sheet has room for.
fn crowded() -> Outcome<(ZoneSet, TransitReport)> {
    let (zones, mut report) = marks::misleading_marks()?;
    let long = {
        let problems = TransitDocument::new(&report, &English).problems;
        problems.iter().map(|problem| problem.text.clone()).collect::<Vec<_>>().join(" ")
    };
    for _ in 0..12 {
        let severity = report.problems[0].severity;
        let reason = ProblemReason::MarkMovable { mark: "Lone Pine".into(), comment: Some(long.clone()) };
        report.problems.push(Problem { severity, reason });
        report.clears_because.push(ClearsReason::LineNotKnown { zone: long.clone() });
        let zone = report.zones[0].clone();
        report.zones.push(zone);
    }
    report.magnetic = Some(Err(too_late()?));
    Ok((zones, report))
}

/// The marks of Marrowick under names that are too long for their lines.
fn long_winded() -> Outcome<(ZoneSet, TransitReport)> {
    let (zones, mut report) = marks::marrowick_marks()?;
    let called = |mark: &Landmark, name: &str| Landmark { name: name.repeat(3), ..mark.clone() };
    report.line = RangeLine::through(
        called(report.line.front(), "Old Beacon on the Point of Sallow "),
        called(report.line.rear(), "The Pine that stands Alone "),
    )?;
    report.zones[0].name = "Reserve of Sallow Cove and its Approaches ".repeat(3);
    report.magnetic = Some(Err(too_late()?));
    Ok((zones, report))
}

#[test]
fn a_card_prints_on_the_front_and_the_back_of_one_half_sheet() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let cards = [
        ("the beacon and the pine", marks::marrowick_marks()?),
        ("marks that mislead", marks::misleading_marks()?),
        ("marks with much to say of them", crowded()?),
        ("marks with long names", long_winded()?),
    ];
    for (name, marks) in &cards {
        let mut browser = Browser::open_file("card.html", &card(marks)?, (528, 816), true)?;
        for (sheet, width_in, height_in) in HALF_SHEETS_IN {
            assert_eq!(browser.pages_printed(width_in, height_in)?, 2, "{name} on {sheet}");
        }
        browser.send("Emulation.setEmulatedMedia", &json!({ "media": "print" }))?;
        let smallest = browser.ask(SMALLEST_LETTERS_PX)?.as_f64().ok_or("no letters")?;
        // 7.5 pt are 10 px of 96 to the inch
        assert!(smallest >= 9.99, "{name}: letters of {smallest} px");
        browser.was_quiet();
    }
    Ok(())
}

/// The size of the smallest letters, those of drawings as they come out.
const SMALLEST_LETTERS_PX: &str = "Math.min(...[...document.querySelectorAll('body *')].filter(e => \
     [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()) && e.getClientRects().length && \
     !['title', 'desc', 'STYLE'].includes(e.tagName)).map(e => parseFloat(getComputedStyle(e).fontSize) * \
     (e.ownerSVGElement ? e.getScreenCTM().a : 1)))";
/// Pairs of words in a drawing that lie on each other.
const WORDS_THAT_MEET: &str = "[...document.querySelectorAll('svg.drawing')].flatMap(svg => { \
     const all = [...svg.querySelectorAll('text')].filter(t => t.checkVisibility()).map(t => [t.textContent, t.getBoundingClientRect()]); \
     return all.flatMap(([one, a], i) => all.slice(i + 1).filter(([, b]) => a.left < b.right - 1 && b.left < a.right - 1 && \
     a.top < b.bottom - 4 && b.top < a.bottom - 4).map(([other]) => one + ' / ' + other)); })";

#[test]
fn a_phone_shows_sentence_and_sketch_of_a_card_first_and_nothing_sideways() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    for marks in [marks::marrowick_marks()?, marks::misleading_marks()?, crowded()?, long_winded()?] {
        let mut browser = Browser::open_file("card.html", &card(&marks)?, (390, 844), false)?;
        assert_eq!(browser.ask("document.documentElement.scrollWidth")?, 390);
        for part in [".sentence", "svg.sketch"] {
            let bottom = browser.ask(&format!(
                "Math.max(...[...document.querySelectorAll('{part}')].map(e => e.getBoundingClientRect().bottom))"
            ))?;
            assert!(bottom.as_f64().ok_or("not there")? <= 844.0, "{part} ends at {bottom}");
        }
        let smallest = browser.ask(SMALLEST_LETTERS_PX)?.as_f64().ok_or("no letters")?;
        assert!(smallest >= 11.0, "letters of {smallest} px");
        assert_eq!(browser.ask(WORDS_THAT_MEET)?, json!([]));
        browser.was_quiet();
    }
    Ok(())
}

#[test]
fn words_of_a_card_do_not_lie_on_each_other_on_a_desk_or_on_paper() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    for marks in [marks::marrowick_marks()?, marks::misleading_marks()?, long_winded()?] {
        let mut browser = Browser::open_file("card.html", &card(&marks)?, (1200, 900), true)?;
        assert_eq!(browser.ask(WORDS_THAT_MEET)?, json!([]), "on a desk");
        browser.send("Emulation.setEmulatedMedia", &json!({ "media": "print" }))?;
        assert_eq!(browser.ask(WORDS_THAT_MEET)?, json!([]), "on paper");
        browser.was_quiet();
    }
    Ok(())
}

#[test]
fn a_sketch_alone_is_a_drawing_that_a_browser_reads() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    let (zones, report) = marks::marrowick_marks()?;
    let mut browser = Browser::open_file(
        "sketch.svg",
        &transit_sketch_svg(&TransitDocument::new(&report, &English), &zones),
        (720, 300),
        true,
    )?;
    assert_eq!(browser.ask("document.documentElement.tagName")?, "svg");
    assert_eq!(browser.ask("document.querySelectorAll('parsererror').length")?, 0);
    assert_eq!(browser.ask("document.querySelectorAll('.view .mark').length")?, 8);
    let ink = browser.ask("getComputedStyle(document.querySelector('.front')).fill")?;
    assert_ne!(ink, "none", "it brings its own colours");
    browser.was_quiet();
    Ok(())
}

/// The pages of all Marrowick's zones, with the coast.
fn read_back() -> Outcome<String> {
    let demo = |name: &str| std::fs::read(format!("{}/../../demo-data/{name}", env!("CARGO_MANIFEST_DIR")));
    let coast = takeline::coast::read("coast.geojson", &demo("coast/marrowick.geojson")?)?.coast;
    let loaded = takeline::zone_file::read("marrowick.json", &demo("zones/marrowick.json")?)?;
    let document = ShowDocument::of(&loaded, &[], &English);
    Ok(show_page(&document, &loaded.zones, &[coast], None))
}

#[test]
fn zones_read_back_fit_a_phone_and_no_number_of_a_corner_lies_on_another() -> Outcome<()> {
    if left_out() {
        return Ok(());
    }
    for width in [320, 390, 1280] {
        let mut browser = Browser::open_file("zones.html", &read_back()?, (width, 844), false)?;
        // a window of this width may have a scroll bar in it
        let wide = browser.ask("document.documentElement.scrollWidth")?.as_u64().ok_or("no width")?;
        assert!(wide <= width.into(), "{wide} in {width} px");
        assert_eq!(browser.ask(WORDS_THAT_MEET)?, json!([]), "at {width} px");
        let boxes = browser.ask("document.querySelectorAll('input[type=checkbox]').length")?;
        assert!(boxes.as_u64().ok_or("no boxes")? > 800, "{boxes}");
        browser.was_quiet();
    }
    Ok(())
}
