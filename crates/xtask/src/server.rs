//! A small file server for this machine: right types, gzip, and the strict content policy that the app must live with.

use crate::{Profile, bundle, workspace};
use anyhow::{Context, Result};
use axum::Router;
use axum::http::{HeaderName, HeaderValue, header};
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::path::Path;
use std::time::Instant;
use tower_http::services::ServeDir;
use tower_http::set_header::SetResponseHeaderLayer;

/// Nothing from elsewhere, nothing inline. The page carries the same in a meta element, but for `frame-ancestors`, which only
/// a header can say.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; \
    connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; \
    require-trusted-types-for 'script'; trusted-types default; frame-ancestors 'none'";

/// Builds, serves, and rebuilds whenever Enter is pressed.
pub fn build_and_serve(port: u16, profile: Profile) -> Result<()> {
    let site = workspace::target()?.join(format!("site-{}", profile.name()));
    rebuild(profile, &site)?;
    let address = start(&site, port, "/")?;
    println!("Serving http://{address}/");
    println!("Press Enter to rebuild (then reload the page), Ctrl+C to stop.");
    for line in std::io::stdin().lines() {
        line?;
        match rebuild(profile, &site) {
            Ok(()) => println!("Rebuilt: reload http://{address}/"),
            Err(error) => println!("Not rebuilt, the old build is still served: {error:#}"),
        }
    }
    // No keyboard (started in the background): serve until stopped.
    loop {
        std::thread::park();
    }
}

/// Builds the app as it is served here, with a gzipped copy beside each file.
pub fn rebuild(profile: Profile, site: &Path) -> Result<()> {
    let start = Instant::now();
    bundle::build(profile, site)?;
    bundle::add_gzipped_copies(site)?;
    println!("Built in {:.1} s.", start.elapsed().as_secs_f64());
    Ok(())
}

/// Serves the folder under the path on a thread of its own; port 0 takes any free one.
pub fn start(folder: &Path, port: u16, path: &str) -> Result<SocketAddr> {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))
        .with_context(|| format!("port {port} is taken: give another one with --port"))?;
    listener.set_nonblocking(true)?;
    let address = listener.local_addr()?;
    let app = routes(folder, path);
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()?;
    std::thread::spawn(move || {
        runtime.block_on(async move {
            let listener = tokio::net::TcpListener::from_std(listener)?;
            axum::serve(listener, app).await
        })
    });
    Ok(address)
}

fn routes(folder: &Path, path: &str) -> Router {
    let files = ServeDir::new(folder).precompressed_gzip();
    let app = if path == "/" {
        Router::new().fallback_service(files)
    } else {
        Router::new().nest_service(path, files)
    };
    app.layer(always(header::CONTENT_SECURITY_POLICY, POLICY))
        .layer(always(header::CACHE_CONTROL, "no-cache"))
        .layer(always(header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .layer(always(header::REFERRER_POLICY, "no-referrer"))
}

fn always(name: HeaderName, value: &'static str) -> SetResponseHeaderLayer<HeaderValue> {
    SetResponseHeaderLayer::overriding(name, HeaderValue::from_static(value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::{Read, Write};
    use std::net::TcpStream;

    fn ask(address: SocketAddr, path: &str) -> String {
        let mut stream = TcpStream::connect(address).unwrap();
        write!(stream, "GET {path} HTTP/1.1\r\nHost: localhost\r\nAccept-Encoding: gzip\r\nConnection: close\r\n\r\n").unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        String::from_utf8_lossy(&answer).to_lowercase()
    }

    fn site() -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        for name in [
            "index.html",
            "app.js",
            "app_bg.wasm",
            "style.css",
            "icon.svg",
        ] {
            std::fs::write(folder.path().join(name), format!("content of {name}")).unwrap();
        }
        bundle::add_gzipped_copies(folder.path()).unwrap();
        folder
    }

    #[test]
    fn files_come_with_their_types_gzip_and_the_policy() {
        let site = site();
        let address = start(site.path(), 0, "/").unwrap();
        let types = [
            ("/", "text/html"),
            ("/app.js", "text/javascript"),
            ("/app_bg.wasm", "application/wasm"),
            ("/style.css", "text/css"),
            ("/icon.svg", "image/svg+xml"),
        ];
        for (path, kind) in types {
            let answer = ask(address, path);
            assert!(answer.starts_with("http/1.1 200"), "{path}: {answer}");
            assert!(
                answer.contains(&format!("content-type: {kind}")),
                "{path}: {answer}"
            );
            assert!(
                answer.contains("content-encoding: gzip"),
                "{path}: {answer}"
            );
            assert!(
                answer.contains(&format!("content-security-policy: {POLICY}")),
                "{path}: {answer}"
            );
        }
    }

    #[test]
    fn a_path_prefix_works_and_nothing_outside_the_folder_is_served() {
        let site = site();
        let address = start(site.path(), 0, "/some/where/").unwrap();
        assert!(ask(address, "/some/where/app.js").starts_with("http/1.1 200"));
        assert!(ask(address, "/app.js").starts_with("http/1.1 404"));
        assert!(!ask(address, "/some/where/../../../etc/passwd").contains("root:"));
        assert!(!ask(address, "/some/where/%2e%2e/%2e%2e/%2e%2e/etc/passwd").contains("root:"));
    }

    #[test]
    fn the_page_repeats_the_policy_for_hosts_that_send_none() {
        let page = std::fs::read_to_string(workspace::root().join("web/index.html")).unwrap();
        let repeated = POLICY.trim_end_matches("; frame-ancestors 'none'");
        assert!(
            page.contains(&format!("content=\"{repeated}\"")),
            "web/index.html and the server disagree on the policy"
        );
    }
}
