//! What the page complained of and whom it called: both must stay empty of errors and of addresses elsewhere.

use serde_json::Value;
use thirtyfour::BrowserLogEntry;

/// Everything seen since the browser started.
#[derive(Debug, Default)]
pub struct Journal {
    /// Errors on the console, uncaught exceptions and failed loads.
    pub errors: Vec<String>,
    /// Addresses outside the app that the page asked for.
    pub outside: Vec<String>,
}

impl Journal {
    /// Takes in new entries of the console.
    pub fn note_console(&mut self, entries: Vec<BrowserLogEntry>) {
        let errors = entries.into_iter().filter(|entry| entry.level == "SEVERE");
        self.errors.extend(errors.map(|entry| entry.message));
    }

    /// Takes in new entries of the network; `home` is the start of every address of our own.
    pub fn note_network(&mut self, entries: &[BrowserLogEntry], home: &str) {
        let addresses = entries.iter().filter_map(|entry| requested(&entry.message));
        self.outside
            .extend(addresses.filter(|address| is_outside(address, home)));
    }

    /// What is wrong, in one text; none when nothing is.
    pub fn complaint(&self) -> Option<String> {
        let errors = self
            .errors
            .iter()
            .map(|error| format!("console error: {error}"));
        let outside = self
            .outside
            .iter()
            .map(|address| format!("request to the outside: {address}"));
        let all: Vec<String> = errors.chain(outside).collect();
        (!all.is_empty()).then(|| all.join("\n"))
    }
}

fn requested(message: &str) -> Option<String> {
    let event: Value = serde_json::from_str(message).ok()?;
    let event = &event["message"];
    let address = match event["method"].as_str()? {
        "Network.requestWillBeSent" => &event["params"]["request"]["url"],
        "Network.webSocketCreated" => &event["params"]["url"],
        _ => return None,
    };
    address.as_str().map(str::to_owned)
}

fn is_outside(address: &str, home: &str) -> bool {
    // Pages of the browser itself are none of the app's.
    let inside = ["data:", "blob:", "about:", "chrome:", "chrome-untrusted:"];
    !address.starts_with(home) && !inside.iter().any(|start| address.starts_with(start))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(level: &str, message: &str) -> BrowserLogEntry {
        BrowserLogEntry {
            level: level.into(),
            message: message.into(),
            timestamp: 0,
            source: None,
        }
    }

    fn request(address: &str) -> BrowserLogEntry {
        let event = serde_json::json!({ "message": { "method": "Network.requestWillBeSent", "params": { "request": { "url": address } } } });
        entry("INFO", &event.to_string())
    }

    #[test]
    fn errors_are_kept_and_chatter_is_not() {
        let mut journal = Journal::default();
        journal.note_console(vec![entry("INFO", "hello"), entry("WARNING", "hm")]);
        assert_eq!(journal.complaint(), None);
        journal.note_console(vec![entry("SEVERE", "broken")]);
        assert_eq!(journal.complaint().unwrap(), "console error: broken");
    }

    #[test]
    fn a_request_elsewhere_is_a_stranger() {
        let home = "http://127.0.0.1:4000/";
        let mut journal = Journal::default();
        journal.note_network(
            &[
                request("http://127.0.0.1:4000/app.js"),
                request("blob:x"),
                request("data:,x"),
            ],
            home,
        );
        assert_eq!(journal.complaint(), None);
        journal.note_network(
            &[
                request("http://127.0.0.1:4001/x"),
                request("https://elsewhere.example/font"),
            ],
            home,
        );
        assert_eq!(journal.outside.len(), 2);
    }
}
