//! What a person does at the app, as one call each: open, tap, fill, read, wait, take files out and in, print.
//!
//! The desk fails its test on any console error and any request to the outside, whatever else the test looks at.

use crate::driver::Driver;
use crate::find::Find;
use crate::journal::Journal;
use crate::screen::Screen;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use std::cell::{Cell, RefCell};
use std::path::{Path, PathBuf};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// Longest wait for anything to appear.
const PATIENCE: Duration = Duration::from_secs(15);
const PAUSE: Duration = Duration::from_millis(40);

/// Brings the element into view and says where its middle is, and what lies over it if something does.
const MIDDLE: &str = "function () {
    this.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' });
    const box = this.getBoundingClientRect();
    const x = box.left + box.width / 2, y = box.top + box.height / 2;
    const top = document.elementFromPoint(x, y);
    const reached = top && (this.contains(top) || top.contains(this) || [...(this.labels ?? [])].some((label) => label.contains(top)));
    return { x, y, empty: box.width === 0 || box.height === 0, over: reached ? null : (top?.outerHTML ?? 'nothing').slice(0, 120) };
}";

/// A browser at the app, on one screen.
pub struct Desk {
    driver: Driver,
    home: String,
    journal: RefCell<Journal>,
    screen: Cell<Screen>,
    killed: bool,
}

impl Desk {
    /// A fresh browser on this screen, not yet at any page.
    pub fn new(screen: Screen) -> Desk {
        Desk::with(screen, Driver::start())
    }

    /// A browser with a profile that outlives it.
    pub fn with_profile(screen: Screen, profile: &Path) -> Desk {
        Desk::with(screen, Driver::start_with(Some(profile)))
    }

    fn with(screen: Screen, driver: Driver) -> Desk {
        let home = std::env::var("APP_ADDRESS")
            .expect("APP_ADDRESS is not set: run `cargo xtask test --only browser`");
        let desk = Desk {
            driver,
            home,
            journal: RefCell::default(),
            screen: Cell::new(screen),
            killed: false,
        };
        desk.show_on(screen);
        desk
    }

    /// Changes to this screen: size, touch, colours.
    pub fn show_on(&self, screen: Screen) {
        self.screen.set(screen);
        let Screen {
            width,
            height,
            dark,
        } = screen;
        let size =
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": true });
        self.driver
            .devtools("Emulation.setDeviceMetricsOverride", size);
        self.driver.devtools(
            "Emulation.setTouchEmulationEnabled",
            json!({ "enabled": true, "maxTouchPoints": 5 }),
        );
        let scheme =
            json!({ "name": "prefers-color-scheme", "value": if dark { "dark" } else { "light" } });
        self.driver.devtools(
            "Emulation.setEmulatedMedia",
            json!({ "features": [scheme] }),
        );
    }

    /// Kills the browser after so long, whatever is being done then; gives the moment. The desk is to be buried after that.
    pub fn kill_after(&self, wait: Duration) -> JoinHandle<Instant> {
        self.driver.kill_after(wait)
    }

    /// Leaves a browser that was killed.
    pub fn bury(mut self) {
        self.killed = true;
        self.driver.bury();
    }

    /// As [`Desk::evaluate`], for a browser that may be killed meanwhile.
    pub fn try_evaluate(&self, expression: &str) -> Result<Value, String> {
        let parameters =
            json!({ "expression": expression, "returnByValue": true, "awaitPromise": true });
        self.driver.try_devtools("Runtime.evaluate", parameters)
    }

    /// Taps the field and types the text behind what is there, without leaving the field.
    pub fn type_into(&self, target: impl Into<Find>, text: &str) {
        self.tap(target);
        self.devtools("Input.insertText", json!({ "text": text }));
    }

    /// A further window on the same screen, to which the desk turns; gives the names of the old one and of the new one.
    pub fn further_window(&self) -> (String, String) {
        self.read_logs();
        let names = self.driver.further_window();
        self.show_on(self.screen.get());
        names
    }

    /// Turns to a window.
    pub fn to_window(&self, name: &str) {
        self.read_logs();
        self.driver.to_window(name);
    }

    /// Closes the present window and turns to another.
    pub fn close_window(&self, next: &str) {
        self.read_logs();
        self.driver.close_window();
        self.driver.to_window(next);
    }

    /// Cuts the page off from every server, or lets it reach them again.
    pub fn offline(&self, offline: bool) {
        self.driver.devtools("Network.enable", json!({}));
        let conditions = json!({ "offline": offline, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 });
        self.driver
            .devtools("Network.emulateNetworkConditions", conditions);
    }

    /// Opens a page of the app; the path is relative to it, `""` is its start.
    pub fn open(&self, path: &str) {
        self.driver.go(&format!("{}{path}", self.home));
    }

    /// Reloads the page.
    pub fn reload(&self) {
        self.driver.reload();
    }

    /// The page's title.
    pub fn title(&self) -> String {
        text_of(&self.driver.evaluate("document.title"))
    }

    /// Taps with a finger in the middle of the element, which must be there, visible and not covered.
    pub fn tap(&self, target: impl Into<Find>) {
        let (x, y) = self.middle(&target.into());
        self.touch("touchStart", &[(x, y)]);
        self.touch("touchEnd", &[]);
    }

    /// Drags a finger from the middle of one element to the middle of another.
    pub fn drag(&self, from: impl Into<Find>, to: impl Into<Find>) {
        let (end_x, end_y) = self.middle(&to.into());
        let (x, y) = self.middle(&from.into());
        self.touch("touchStart", &[(x, y)]);
        for step in 1..=10 {
            let part = f64::from(step) / 10.0;
            self.touch(
                "touchMove",
                &[(x + (end_x - x) * part, y + (end_y - y) * part)],
            );
        }
        self.touch("touchEnd", &[]);
    }

    /// Puts a finger on an element and moves it by so many pixels in so many steps, telling of each; then lets go, or has the
    /// touch taken away as a system gesture does.
    pub fn drag_by(
        &self,
        from: impl Into<Find>,
        by_px: (f64, f64),
        steps: u32,
        let_go: bool,
        mut each: impl FnMut(),
    ) {
        let (x, y) = self.middle(&from.into());
        self.touch("touchStart", &[(x, y)]);
        for step in 1..=steps {
            let part = f64::from(step) / f64::from(steps);
            self.touch("touchMove", &[(x + by_px.0 * part, y + by_px.1 * part)]);
            each();
        }
        self.touch(if let_go { "touchEnd" } else { "touchCancel" }, &[]);
    }

    /// Taps a place of the screen.
    pub fn tap_at(&self, at: (f64, f64)) {
        self.touch("touchStart", &[at]);
        self.touch("touchEnd", &[]);
    }

    /// Draws a finger over the screen from one place to another.
    pub fn draw(&self, from: (f64, f64), to: (f64, f64), steps: u32) {
        self.touch("touchStart", &[from]);
        for step in 1..=steps {
            let part = f64::from(step) / f64::from(steps);
            let at = (
                from.0 + (to.0 - from.0) * part,
                from.1 + (to.1 - from.1) * part,
            );
            self.touch("touchMove", &[at]);
        }
        self.touch("touchEnd", &[]);
    }

    /// Two fingers go from one pair of places to another.
    pub fn pinch(&self, from: [(f64, f64); 2], to: [(f64, f64); 2]) {
        self.touch("touchStart", &from[..1]);
        self.touch("touchStart", &from);
        for step in 1..=8 {
            let part = f64::from(step) / 8.0;
            let at = |n: usize| {
                (
                    from[n].0 + (to[n].0 - from[n].0) * part,
                    from[n].1 + (to[n].1 - from[n].1) * part,
                )
            };
            self.touch("touchMove", &[at(0), at(1)]);
        }
        self.touch("touchEnd", &[]);
    }

    fn touch(&self, kind: &str, points: &[(f64, f64)]) {
        let points: Vec<Value> = points
            .iter()
            .map(|(x, y)| json!({ "x": x, "y": y }))
            .collect();
        self.driver.devtools(
            "Input.dispatchTouchEvent",
            json!({ "type": kind, "touchPoints": points }),
        );
    }

    /// Presses and releases a key, named as in `KeyboardEvent.key`, for example `Enter`, `Tab`, `Escape`.
    pub fn press(&self, key: &str) {
        let code = match key {
            "Enter" => 13,
            "Tab" => 9,
            "Escape" => 27,
            "Backspace" => 8,
            "Delete" => 46,
            "ArrowLeft" => 37,
            "ArrowUp" => 38,
            "ArrowRight" => 39,
            "ArrowDown" => 40,
            other => panic!("the desk does not know the key {other}: add its code"),
        };
        let mut event =
            json!({ "type": "rawKeyDown", "key": key, "code": key, "windowsVirtualKeyCode": code });
        if key == "Enter" {
            event["type"] = json!("keyDown");
            event["text"] = json!("\r");
        }
        self.driver
            .devtools("Input.dispatchKeyEvent", event.clone());
        event["type"] = json!("keyUp");
        self.driver.devtools("Input.dispatchKeyEvent", event);
    }

    /// Taps the field, replaces its content by the text as typing does, and leaves the field.
    pub fn fill(&self, target: impl Into<Find>, text: &str) {
        let target = target.into();
        self.tap(target.clone());
        self.on(
            &target,
            "function () { this.focus(); this.select?.(); }",
            &[],
        );
        if text.is_empty() {
            self.press("Backspace");
        } else {
            self.driver
                .devtools("Input.insertText", json!({ "text": text }));
        }
        self.on(&target, "function () { this.blur(); }", &[]);
    }

    /// Chooses the option of a drop-down list by the text it shows.
    pub fn initial_sizes(&self, target: impl Into<Find>, option: &str) {
        let chosen = self.on(
            &target.into(),
            "function (wanted) {
                const option = [...this.options].find((option) => option.label.trim() === wanted);
                if (!option) return [...this.options].map((option) => option.label).join(', ');
                this.value = option.value;
                for (const kind of ['input', 'change']) this.dispatchEvent(new Event(kind, { bubbles: true }));
                return null;
            }",
            &[json!(option)],
        );
        assert!(
            chosen.is_null(),
            "there is no option {option:?}, only {chosen}"
        );
    }

    /// The text of the element as shown; of a field, its content.
    pub fn text(&self, target: impl Into<Find>) -> String {
        text_of(&self.on(
            &target.into(),
            "function () { return this.matches('input, select, textarea') ? this.value : this.innerText; }",
            &[],
        ))
    }

    /// An attribute or a property of the element, as text.
    pub fn property(&self, target: impl Into<Find>, name: &str) -> String {
        let read = "function (name) { return String(this.getAttribute(name) ?? this[name]); }";
        text_of(&self.on(&target.into(), read, &[json!(name)]))
    }

    /// Whether the element is there now.
    pub fn has(&self, target: impl Into<Find>) -> bool {
        target
            .into()
            .locate(&self.driver)
            .unwrap_or_else(|error| panic!("{error}"))
            .is_some()
    }

    /// Waits until the element is there.
    pub fn wait_for(&self, target: impl Into<Find>) {
        self.locate(&target.into());
    }

    /// Waits for an element that a long search brings, for at most so long.
    pub fn wait_long(&self, target: impl Into<Find>, at_most: Duration) {
        let target = target.into();
        let start = Instant::now();
        while !self.has(target.clone()) {
            assert!(
                start.elapsed() < at_most,
                "waited {} s for {target}",
                at_most.as_secs()
            );
            std::thread::sleep(PAUSE);
        }
    }

    /// Waits until the element is gone.
    pub fn wait_gone(&self, target: impl Into<Find>) {
        let target = target.into();
        self.wait_until(&format!("{target} to go"), || !self.has(target.clone()));
    }

    /// Waits until the element shows the text, perhaps among other text.
    pub fn wait_text(&self, target: impl Into<Find>, text: &str) {
        let target = target.into();
        self.wait_until(&format!("{target} to say {text:?}"), || {
            self.has(target.clone()) && self.text(target.clone()).contains(text)
        });
    }

    /// Waits until the condition holds; `what` completes "waited for".
    pub fn wait_until(&self, what: &str, mut holds: impl FnMut() -> bool) {
        let start = Instant::now();
        while !holds() {
            assert!(
                start.elapsed() < PATIENCE,
                "waited {} s for {what}",
                PATIENCE.as_secs()
            );
            std::thread::sleep(PAUSE);
        }
    }

    /// Sends a command of the DevTools protocol to the page.
    pub fn devtools(&self, method: &str, parameters: Value) -> Value {
        self.driver.devtools(method, parameters)
    }

    /// The value of a JavaScript expression on the page.
    pub fn evaluate(&self, expression: &str) -> Value {
        self.driver.evaluate(expression)
    }

    /// Taps the element and gives name and bytes of the file that arrives.
    pub fn download(&self, target: impl Into<Find>) -> (String, Vec<u8>) {
        let folder = self.driver.downloads();
        for old in files_in(&folder) {
            std::fs::remove_file(old).expect("removing an earlier download");
        }
        self.tap(target);
        let mut arrived = None;
        self.wait_until("a download", || {
            // A file under way has another name until it is whole.
            arrived = files_in(&folder)
                .into_iter()
                .find(|file| file.extension().is_none_or(|end| end != "crdownload"));
            arrived.is_some() && files_in(&folder).len() == 1
        });
        let file = arrived.expect("a download");
        let name = file
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        (name, std::fs::read(file).expect("reading the download"))
    }

    /// Gives a file to a file field, which may be hidden.
    pub fn upload(&self, target: impl Into<Find>, name: &str, bytes: &[u8]) {
        let object = self.locate(&target.into());
        let file = self.driver.file(name, bytes);
        self.driver.devtools(
            "DOM.setFileInputFiles",
            json!({ "files": [file], "objectId": object }),
        );
    }

    /// What local storage holds under the key.
    pub fn stored(&self, key: &str) -> Option<String> {
        self.evaluate(&format!("localStorage.getItem({})", json!(key)))
            .as_str()
            .map(str::to_owned)
    }

    /// Puts a text into local storage.
    pub fn store(&self, key: &str, text: &str) {
        self.evaluate(&format!(
            "localStorage.setItem({}, {})",
            json!(key),
            json!(text)
        ));
    }

    /// Takes a picture of what the screen shows; it is kept under this name.
    pub fn screenshot(&self, name: &str) -> PathBuf {
        self.keep(
            "Page.captureScreenshot",
            json!({ "format": "png" }),
            &format!("{name}.png"),
        )
    }

    /// Prints the page as the browser would on paper; the PDF is kept under this name.
    pub fn print_pdf(&self, name: &str) -> PathBuf {
        self.keep(
            "Page.printToPDF",
            json!({ "preferCSSPageSize": true, "printBackground": true }),
            &format!("{name}.pdf"),
        )
    }

    fn keep(&self, method: &str, parameters: Value, name: &str) -> PathBuf {
        let answer = self.driver.devtools(method, parameters);
        let bytes = STANDARD
            .decode(text_of(&answer["data"]))
            .expect("the browser sends base64");
        let folder = std::env::var_os("SCREENSHOTS").map_or_else(std::env::temp_dir, PathBuf::from);
        std::fs::create_dir_all(&folder).expect("a folder for pictures");
        let path = folder.join(name);
        std::fs::write(&path, bytes).expect("keeping the picture");
        path
    }

    /// Every console error so far.
    pub fn console_errors(&self) -> Vec<String> {
        self.read_logs();
        self.journal.borrow().errors.clone()
    }

    /// Takes the console errors out, for a test that provokes one: it must then check what they say.
    pub fn take_console_errors(&self) -> Vec<String> {
        self.read_logs();
        std::mem::take(&mut self.journal.borrow_mut().errors)
    }

    fn read_logs(&self) {
        let mut journal = self.journal.borrow_mut();
        journal.note_console(self.driver.log("browser"));
        journal.note_network(&self.driver.log("performance"), &self.home);
    }

    fn locate(&self, target: &Find) -> String {
        let start = Instant::now();
        loop {
            let found = target.locate(&self.driver);
            match found {
                Ok(Some(object)) => return object,
                Ok(None) => assert!(
                    start.elapsed() < PATIENCE,
                    "waited {} s for {target}",
                    PATIENCE.as_secs()
                ),
                Err(error) => assert!(start.elapsed() < PATIENCE, "{error}"),
            }
            std::thread::sleep(PAUSE);
        }
    }

    /// Calls the function on the element; looks again when the page has replaced it meanwhile.
    fn on(&self, target: &Find, function: &str, arguments: &[Value]) -> Value {
        let first = self.driver.call(&self.locate(target), function, arguments);
        let value = first.or_else(|_| self.driver.call(&self.locate(target), function, arguments));
        value.unwrap_or_else(|error| panic!("{target}: {error}"))
    }

    fn middle(&self, target: &Find) -> (f64, f64) {
        let start = Instant::now();
        let mut before = Value::Null;
        loop {
            let place = self.on(target, MIDDLE, &[]);
            // A page that has just come may still move: a finger waits until it is still.
            if place["over"].is_null() && place["empty"] == false && place == before {
                return (
                    place["x"].as_f64().unwrap_or_default(),
                    place["y"].as_f64().unwrap_or_default(),
                );
            }
            before = place.clone();
            let why = if place["empty"] == true {
                "it has no size".to_owned()
            } else {
                format!("over it lies {}", place["over"])
            };
            assert!(
                start.elapsed() < PATIENCE,
                "{target} can't be reached with a finger: {why}"
            );
            std::thread::sleep(PAUSE);
        }
    }
}

fn text_of(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

fn files_in(folder: &std::path::Path) -> Vec<PathBuf> {
    folder
        .read_dir()
        .into_iter()
        .flatten()
        .flatten()
        .map(|entry| entry.path())
        .collect()
}

impl Drop for Desk {
    fn drop(&mut self) {
        if self.killed {
            return;
        }
        if std::thread::panicking() {
            let name = format!(
                "failed-{}",
                std::thread::current()
                    .name()
                    .unwrap_or("test")
                    .replace("::", "-")
            );
            // A second failure here would hide the first.
            let seen = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
                (self.screenshot(&name), self.console_errors())
            }));
            if let Ok((picture, errors)) = seen {
                eprintln!(
                    "the screen at that moment: {}\nconsole errors: {errors:?}",
                    picture.display()
                );
            }
            return;
        }
        self.read_logs();
        let complaint = self.journal.borrow().complaint();
        assert!(complaint.is_none(), "{}", complaint.unwrap_or_default());
    }
}
