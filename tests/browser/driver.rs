//! One browser with its driver process, as blocking calls: WebDriver for the session, DevTools commands for what people do.

use serde_json::{Value, json};
use std::future::Future;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};
use thirtyfour::LoggingPrefsLogLevel;
use thirtyfour::error::WebDriverResult;
use thirtyfour::{
    BrowserLogEntry, ChromeCapabilities, ChromiumLikeCapabilities, DesiredCapabilities, WebDriver,
};
use tokio::runtime::Runtime;

/// A quiet browser: nothing of its own goes out, and every other host is unknown to it, so a stray request fails at once.
const FLAGS: [&str; 9] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
];

/// A running browser; it ends with this value.
pub struct Driver {
    runtime: Runtime,
    session: Option<WebDriver>,
    process: Child,
    /// Downloads and files to upload live here and go with the driver; so does the profile, unless it was given.
    folder: tempfile::TempDir,
    profile: PathBuf,
}

impl Driver {
    /// Starts the driver process and a browser with an empty profile.
    pub fn start() -> Driver {
        Driver::start_with(None)
    }

    /// The same with a profile that outlives the driver.
    pub fn start_with(profile: Option<&Path>) -> Driver {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .expect("a runtime");
        let folder = tempfile::tempdir().expect("a temporary folder");
        let (process, port) = start_process();
        let profile = profile.map_or_else(|| folder.path().join("profile"), Path::to_path_buf);
        let mut driver = Driver {
            runtime,
            session: None,
            process,
            folder,
            profile,
        };
        let wanted = driver.capabilities().expect("the browser's options");
        let session = driver.wait(WebDriver::new(format!("http://127.0.0.1:{port}"), wanted));
        driver.session = Some(session.expect("the browser should start"));
        driver.accept_downloads();
        driver
    }

    fn capabilities(&self) -> WebDriverResult<ChromeCapabilities> {
        let mut wanted = DesiredCapabilities::chrome();
        for flag in FLAGS {
            wanted.add_arg(flag)?;
        }
        wanted.add_arg(&format!("--user-data-dir={}", self.profile.display()))?;
        if let Some(binary) = std::env::var_os("CHROMIUM") {
            wanted.set_binary(&binary.to_string_lossy())?;
        }
        wanted.set_logging_prefs("browser", LoggingPrefsLogLevel::All)?;
        wanted.set_logging_prefs("performance", LoggingPrefsLogLevel::All)?;
        Ok(wanted)
    }

    fn accept_downloads(&self) {
        std::fs::create_dir_all(self.downloads()).expect("a folder for downloads");
        let accept = json!({ "behavior": "allow", "downloadPath": self.downloads() });
        self.devtools("Browser.setDownloadBehavior", accept);
    }

    /// Where downloads arrive.
    pub fn downloads(&self) -> PathBuf {
        self.folder.path().join("downloads")
    }

    /// Puts a file where the browser can take it from.
    pub fn file(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.folder.path().join(name);
        std::fs::write(&path, bytes).expect("writing a file to upload");
        path
    }

    fn session(&self) -> &WebDriver {
        self.session
            .as_ref()
            .expect("the browser runs until the driver is dropped")
    }

    fn wait<T>(&self, future: impl Future<Output = T>) -> T {
        self.runtime.block_on(future)
    }

    /// Kills the browser after so long, as the system does when memory runs out, whatever the test is doing then; gives the moment.
    pub fn kill_after(&self, wait: Duration) -> JoinHandle<Instant> {
        let browser = child_of(self.process.id()).expect("the browser's process");
        std::thread::spawn(move || {
            std::thread::sleep(wait);
            let at = Instant::now();
            let killed = Command::new("kill")
                .args(["-9", &browser.to_string()])
                .status();
            assert!(
                killed.is_ok_and(|status| status.success()),
                "killing {browser}"
            );
            at
        })
    }

    /// Ends the driver of a browser that was killed.
    pub fn bury(&mut self) {
        // The session is gone with the browser: nobody is there to be told of its end.
        if let Some(session) = self.session.take() {
            let _ = self.runtime.block_on(async { session.leak() });
        }
        let _ = self.process.kill();
    }

    /// Opens a further window at this address and goes there; gives the names of the one left and of the new one.
    pub fn further_window(&self) -> (String, String) {
        let both = self.wait(async {
            let old = self.session().window().await?;
            let new = self.session().new_tab().await?;
            self.session().switch_to_window(new.clone()).await?;
            WebDriverResult::Ok((old.to_string(), new.to_string()))
        });
        both.expect("a further window")
    }

    /// Goes to a window.
    pub fn to_window(&self, name: &str) {
        self.wait(self.session().switch_to_window(name.to_owned().into()))
            .expect("the window");
    }

    /// Closes the present window.
    pub fn close_window(&self) {
        self.wait(self.session().close_window())
            .expect("closing the window");
    }

    /// Opens the address and waits for the page to load.
    pub fn go(&self, address: &str) {
        self.wait(self.session().goto(address))
            .unwrap_or_else(|error| panic!("opening {address}: {error}"));
    }

    /// Reloads the page.
    pub fn reload(&self) {
        self.wait(self.session().refresh())
            .expect("reloading the page");
    }

    /// Sends a command of the DevTools protocol.
    pub fn devtools(&self, method: &str, parameters: Value) -> Value {
        self.try_devtools(method, parameters)
            .unwrap_or_else(|error| panic!("{method}: {error}"))
    }

    /// As [`Driver::devtools`], for commands that may be refused.
    pub fn try_devtools(&self, method: &str, parameters: Value) -> Result<Value, String> {
        self.wait(self.session().cdp().send_raw(method, parameters))
            .map_err(|error| error.to_string())
    }

    /// The value of a JavaScript expression, promises awaited.
    pub fn evaluate(&self, expression: &str) -> Value {
        let answer = self.devtools(
            "Runtime.evaluate",
            json!({ "expression": expression, "returnByValue": true, "awaitPromise": true }),
        );
        value_of(&answer).unwrap_or_else(|error| panic!("{expression}: {error}"))
    }

    /// The handle of the object that the expression gives, if it gives one.
    pub fn object(&self, expression: &str) -> Option<String> {
        let answer = self.devtools("Runtime.evaluate", json!({ "expression": expression }));
        answer["result"]["objectId"].as_str().map(str::to_owned)
    }

    /// The handle of the element behind a node of the accessibility tree; none when the page has dropped it meanwhile.
    pub fn object_of_node(&self, node: &Value) -> Option<String> {
        let answer = self
            .try_devtools("DOM.resolveNode", json!({ "backendNodeId": node }))
            .ok()?;
        answer["object"]["objectId"].as_str().map(str::to_owned)
    }

    /// The value of a JavaScript function called on the object as `this`; an error when it is gone or throws.
    pub fn call(&self, object: &str, function: &str, arguments: &[Value]) -> Result<Value, String> {
        let arguments: Vec<Value> = arguments
            .iter()
            .map(|value| json!({ "value": value }))
            .collect();
        let parameters = json!({ "objectId": object, "functionDeclaration": function, "arguments": arguments, "returnByValue": true });
        value_of(&self.try_devtools("Runtime.callFunctionOn", parameters)?)
    }

    /// New entries of the named log: `browser` for the console, `performance` for the network.
    pub fn log(&self, name: &str) -> Vec<BrowserLogEntry> {
        self.wait(self.session().get_log(name))
            .unwrap_or_else(|error| panic!("reading the {name} log: {error}"))
    }
}

fn value_of(answer: &Value) -> Result<Value, String> {
    match &answer["exceptionDetails"] {
        Value::Null => Ok(answer["result"]["value"].clone()),
        thrown => Err(thrown["exception"]["description"]
            .as_str()
            .unwrap_or("an exception without text")
            .to_owned()),
    }
}

/// The driver's process and port. It ends at once when the free port that it found is taken before it listens: then again.
fn start_process() -> (Child, u16) {
    let found = (0..5).find_map(|_| {
        let (mut process, port) = try_process();
        if port.is_none() {
            // It has closed its output, so it has ended or is about to.
            let _ = process.kill();
            let _ = process.wait();
        }
        Some((process, port?))
    });
    found.expect("the driver should say its port")
}

fn try_process() -> (Child, Option<u16>) {
    let program = std::env::var_os("CHROMEDRIVER").unwrap_or_else(|| "chromedriver".into());
    let mut process = Command::new(&program)
        .arg("--port=0")
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap_or_else(|error| panic!("starting {}: {error}", Path::new(&program).display()));
    let said = BufReader::new(process.stdout.take().expect("the driver's output"));
    let port = said
        .lines()
        .map_while(Result::ok)
        .find_map(|line| port_in(&line));
    (process, port)
}

/// The driver says "ChromeDriver was started successfully on port 39127."
fn port_in(line: &str) -> Option<u16> {
    line.split_once("successfully on port ")?
        .1
        .trim_end_matches('.')
        .parse()
        .ok()
}

/// The process that this one has started, by the system's table of processes.
fn child_of(parent: u32) -> Option<u32> {
    let pids = Path::new("/proc").read_dir().ok()?.flatten();
    pids.filter_map(|entry| entry.file_name().to_str()?.parse::<u32>().ok())
        .find(|pid| {
            let status = std::fs::read_to_string(format!("/proc/{pid}/status"));
            let of_parent =
                |line: &str| line.strip_prefix("PPid:").map(str::trim) == Some(&parent.to_string());
            status.is_ok_and(|text| text.lines().any(of_parent))
        })
}

impl Drop for Driver {
    fn drop(&mut self) {
        if let Some(session) = self.session.take() {
            // The browser may have ended on its own; the process below is ended in any case.
            let _ = self.runtime.block_on(session.quit());
        }
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
