//! The language server as a process that is treated badly: it ends, and takes no more than it is given.

use std::io::{Read, Write};
use std::process::{Child, Stdio};
use std::time::{Duration, Instant};

use crate::farm::Farm;

/// Nothing takes this long.
const PATIENCE: Duration = Duration::from_secs(20);

fn server(farm: &Farm) -> Child {
    farm.command(&["lsp"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Waits for the end; gives the exit code and what was said on standard error.
fn ended(mut server: Child) -> (Option<i32>, String) {
    let start = Instant::now();
    while server.try_wait().unwrap().is_none() {
        if PATIENCE < start.elapsed() {
            server.kill().unwrap();
            server.wait().unwrap();
            panic!("the server goes on");
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    let mut said = String::new();
    server
        .stderr
        .take()
        .unwrap()
        .read_to_string(&mut said)
        .unwrap();
    (server.wait().unwrap().code(), said)
}

fn message(body: &str) -> Vec<u8> {
    format!("Content-Length: {}\r\n\r\n{body}", body.len()).into_bytes()
}

const HELLO: &str = r#"{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{},"processId":null}}"#;

/// The most memory a process ever held, in bytes.
fn peak(server: &Child) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{}/status", server.id())).unwrap();
    let line = status
        .lines()
        .find(|line| line.starts_with("VmHWM:"))
        .unwrap();
    line.split_whitespace()
        .nth(1)
        .unwrap()
        .parse::<u64>()
        .unwrap()
        * 1024
}

#[test]
fn it_ends_with_an_input_that_breaks_off_anywhere() {
    let farm = Farm::new(&[("mash.trug", "animal hen\n")]);
    let whole = message(HELLO);
    for length in [0, 1, 8, 14, 17, 20, 22, 23, whole.len() - 1, whole.len()] {
        let mut server = server(&farm);
        let mut input = server.stdin.take().unwrap();
        input.write_all(&whole[..length]).unwrap();
        drop(input);
        // Without `shutdown` the end of the input is no end in order.
        assert_eq!(ended(server), (Some(1), String::new()), "{length} bytes");
    }
}

#[test]
fn it_ends_with_a_client_that_is_gone() {
    let farm = Farm::new(&[("mash.trug", "animal hen\n")]);
    let mut server = server(&farm);
    drop(server.stdout.take());
    let mut input = server.stdin.take().unwrap();
    // Nobody reads the answers; sooner or later nobody reads the questions either.
    for _ in 0..100 {
        if input.write_all(&message(HELLO)).is_err() {
            break;
        }
    }
    drop(input);
    let (code, said) = ended(server);
    assert!(code == Some(1) || code == Some(2), "{code:?}");
    assert!(!said.contains("panicked"), "{said}");
}

#[test]
fn a_header_that_promises_much_is_given_no_memory() {
    let farm = Farm::new(&[("mash.trug", "animal hen\n")]);
    for length in [
        "134217728",
        "99999999999",
        "18446744073709551615",
        "99999999999999999999999",
        "-1",
        "1e9",
    ] {
        let mut server = server(&farm);
        let mut input = server.stdin.take().unwrap();
        write!(input, "Content-Length: {length}\r\n\r\n{{\"jsonrpc\"").unwrap();
        input.flush().unwrap();
        std::thread::sleep(Duration::from_millis(200));
        let held = peak(&server);
        assert!(held < 100 * 1024 * 1024, "{length}: {held} bytes");
        drop(input);
        let (code, said) = ended(server);
        assert_eq!((code, said.as_str()), (Some(1), ""), "{length}");
    }
}

#[test]
fn rubbish_without_end_is_answered_and_not_kept() {
    let farm = Farm::new(&[("mash.trug", "animal hen\n")]);
    for rubbish in [
        &b"\0"[..],
        b"X-Nothing: to say\r\n",
        b"Content-Length: 5\r\n",
        b"{\"jsonrpc\":\"2.0\"}\n",
    ] {
        let mut server = server(&farm);
        let mut input = server.stdin.take().unwrap();
        let mut output = server.stdout.take().unwrap();
        let reader = std::thread::spawn(move || {
            let mut answers = Vec::new();
            output.read_to_end(&mut answers).unwrap();
            answers
        });
        let stretch = rubbish.repeat(1024 * 1024 / rubbish.len());
        for _ in 0..32 {
            input.write_all(&stretch).unwrap();
        }
        // After a stretch that is none a message is heard as ever; five bytes are for the length that was promised last.
        input.write_all(b"\r\n.....").unwrap();
        input.write_all(&message(HELLO)).unwrap();
        std::thread::sleep(Duration::from_millis(200));
        let held = peak(&server);
        assert!(held < 100 * 1024 * 1024, "{rubbish:?}: {held} bytes");
        drop(input);
        let (code, said) = ended(server);
        assert_eq!((code, said.as_str()), (Some(1), ""));
        let answers = String::from_utf8(reader.join().unwrap()).unwrap();
        assert!(answers.contains("-32700"), "{answers}");
        assert!(
            answers.contains("\"capabilities\""),
            "{}",
            String::from_utf8_lossy(rubbish)
        );
    }
}
