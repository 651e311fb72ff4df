//! The app in a frame of another page of the same host, which sends no policy with its files: it refuses to run.

use crate::driver::Driver;
use serde_json::json;
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::time::{Duration, Instant};

/// Passes the app's files on without the policy of their server, as a plain file server would have them, beside a page that frames them.
fn plain_server() -> String {
    let home = std::env::var("APP_ADDRESS").expect("APP_ADDRESS");
    let host = home
        .trim_start_matches("http://")
        .split('/')
        .next()
        .expect("a host")
        .to_owned();
    let path = home
        .split_once(&host)
        .map(|(_, path)| path.to_owned())
        .expect("a path");
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = format!(
        "http://{}/outer",
        listener.local_addr().expect("an address")
    );
    std::thread::spawn(move || {
        for stream in listener.incoming().flatten() {
            let (host, path) = (host.clone(), path.clone());
            std::thread::spawn(move || answer(stream, &host, &path));
        }
    });
    address
}

fn answer(mut stream: TcpStream, host: &str, path: &str) {
    let mut asked = Vec::new();
    let mut byte = [0];
    while !asked.ends_with(b"\r\n\r\n") && stream.read(&mut byte).is_ok_and(|n| n == 1) {
        asked.push(byte[0]);
    }
    let asked = String::from_utf8_lossy(&asked).into_owned();
    let wanted = asked.split(' ').nth(1).unwrap_or_default();
    if wanted == "/outer" {
        let page = format!("<!doctype html><iframe src='{path}'></iframe>");
        let head = format!(
            "HTTP/1.1 200 OK\r\nContent-Type: text/html\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
            page.len()
        );
        let _ = stream.write_all((head + page.as_str()).as_bytes());
        return;
    }
    let Ok(mut server) = TcpStream::connect(host) else {
        return;
    };
    let _ = write!(
        server,
        "GET {wanted} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"
    );
    let mut whole = Vec::new();
    let _ = server.read_to_end(&mut whole);
    let end = whole.windows(4).position(|w| w == b"\r\n\r\n").unwrap_or(0);
    let head = String::from_utf8_lossy(&whole[..end]);
    let kept = head
        .split("\r\n")
        .filter(|line| !line.to_lowercase().starts_with("content-security-policy"));
    let head = kept.collect::<Vec<_>>().join("\r\n");
    let _ = stream.write_all(head.as_bytes());
    let _ = stream.write_all(&whole[end..]);
}

fn wait(driver: &Driver, what: &str, expression: &str) {
    let end = Instant::now() + Duration::from_secs(15);
    while driver.evaluate(expression) != json!(true) {
        assert!(Instant::now() < end, "{what} did not come");
        std::thread::sleep(Duration::from_millis(50));
    }
}

#[test]
fn the_app_does_not_run_in_a_frame() {
    let outer = plain_server();
    let driver = Driver::start();
    driver.go(&outer);
    let inside = "document.querySelector('iframe').contentDocument";
    wait(
        &driver,
        "the refusal",
        &format!("{inside}?.body?.textContent.includes('inside another page') === true"),
    );
    std::thread::sleep(Duration::from_secs(1));
    assert_eq!(
        driver.evaluate(&format!(
            "{inside}.querySelectorAll('button, input').length"
        )),
        json!(0),
        "something can be pressed"
    );
    // The same files on their own: the proxy is not what keeps the app from running.
    driver.go(&outer.replace("/outer", &path()));
    wait(
        &driver,
        "the app",
        "document.querySelector('[data-test=\"new-plan\"]') !== null",
    );
}

fn path() -> String {
    let home = std::env::var("APP_ADDRESS").expect("APP_ADDRESS");
    let rest = home.trim_start_matches("http://");
    rest[rest.find('/').unwrap_or(rest.len())..].to_owned()
}
