//! Posting what waits. A statement has one id for ever, so that one whose answer was lost on the way is
//! sent again without being there twice: the standard bids a record store keep the first of an id.

use std::fs::File;
use std::net::{IpAddr, Ipv4Addr};
use std::path::Path;
use std::time::Duration;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use jiff::Timestamp;
use ureq::Agent;
use ureq::http::{HeaderMap, Uri};
use ureq::tls::{Certificate, PemItem, RootCerts, TlsConfig, parse_pem};

use super::queue::State;
use crate::records::error::RecordsError;
use crate::records::people::ClassId;
use crate::records::store::{Records, beside};
use crate::texts::Message;

/// Of the standard.
const VERSION: &str = "1.0.3";
/// Longest that is waited where the record store says for how long.
const LONGEST_WAIT: Duration = Duration::from_secs(300);
/// How much of an answer is kept, in characters.
const ANSWER: usize = 400;

/// A record store.
pub struct Endpoint {
    /// Where its statements are posted.
    url: String,
    /// User and password, as they are sent.
    authorization: String,
    agent: Agent,
}

/// Why there is no such endpoint.
#[derive(Debug)]
pub enum EndpointError {
    /// An address that is none.
    Address(String),
    /// Over an open line the password could be read.
    InClear(String),
    /// A certificate that cannot be read.
    Certificate { file: String, error: String },
}

impl EndpointError {
    /// What is wrong, and what to do.
    pub fn message(&self) -> Message {
        match self {
            Self::Address(url) => Message::new("send-no-address").with("address", url.as_str()),
            Self::InClear(url) => Message::new("send-in-clear").with("address", url.as_str()),
            Self::Certificate { file, error } => Message::new("send-no-certificate")
                .with("file", file.as_str())
                .with("error", error.as_str()),
        }
    }
}

/// How it is sent.
#[derive(Clone, Copy, Debug)]
pub struct Manner {
    /// Statements in one post.
    pub batch: usize,
    /// How often the same is tried before it is left for another day.
    pub tries: u32,
    /// The first wait after something went wrong; each further one is twice as long.
    pub wait: Duration,
    /// Longest wait for an answer.
    pub timeout: Duration,
}

impl Default for Manner {
    fn default() -> Self {
        Self {
            batch: 50,
            tries: 6,
            wait: Duration::from_secs(1),
            timeout: Duration::from_secs(60),
        }
    }
}

/// What came of sending.
#[derive(Debug, Default)]
pub struct Sent {
    pub sent: u64,
    /// Were there already, by an earlier try whose answer was lost, or from another machine.
    pub already: u64,
    /// Are not taken, and why the last was not.
    pub refused: u64,
    pub answer: Option<String>,
    /// Wait for the next time.
    pub waiting: u64,
    /// Attempts of nobody's.
    pub nobodys: u64,
    /// Why something waits.
    pub stopped: Option<Message>,
}

/// What came back for a post.
enum Answer {
    Taken,
    /// There is something under one of the ids.
    Conflict,
    /// It is not taken as it is; for a reason.
    NotTaken(String),
    /// Not now.
    Later {
        wait: Option<Duration>,
        why: Message,
    },
    /// Not at all, as it is asked.
    Never(Message),
}

impl Endpoint {
    /// A record store by the address below which it has its statements, with user and password, and
    /// certificates of its own where it has them.
    ///
    /// # Errors
    /// Where the address is none, the password would go over an open line to another machine, or the
    /// certificates cannot be read.
    pub fn new(
        address: &str,
        user: &str,
        password: &str,
        certificates: Option<&Path>,
        manner: &Manner,
    ) -> Result<Self, EndpointError> {
        let address = address.trim().trim_end_matches('/');
        let bad = || EndpointError::Address(address.to_owned());
        let uri: Uri = address.parse().map_err(|_| bad())?;
        let host = uri.host().filter(|host| !host.is_empty()).ok_or_else(bad)?;
        // Who it is belongs to the options, and what is asked for to us.
        let plain = !address.contains(['@', '?', '#']);
        match uri.scheme_str().filter(|_| plain) {
            Some("https") => {}
            Some("http") if is_own(host) => {}
            Some("http") => return Err(EndpointError::InClear(address.to_owned())),
            _ => return Err(bad()),
        }
        let mut tls = TlsConfig::builder();
        if let Some(path) = certificates {
            tls = tls.root_certs(read_certificates(path)?);
        }
        let agent = Agent::config_builder()
            .http_status_as_error(false)
            .max_redirects(0)
            .max_redirects_will_error(false)
            .timeout_global(Some(manner.timeout))
            .user_agent(concat!("Chockline/", env!("CARGO_PKG_VERSION")))
            .tls_config(tls.build())
            .build();
        let secret = STANDARD.encode(format!("{user}:{password}"));
        Ok(Self {
            url: format!("{address}/statements"),
            authorization: format!("Basic {secret}"),
            agent: agent.into(),
        })
    }

    /// By what its queue is known.
    pub fn url(&self) -> &str {
        &self.url
    }

    fn post(&self, body: &str) -> Answer {
        let posted = self
            .agent
            .post(&self.url)
            .header("Authorization", &self.authorization)
            .header("X-Experience-API-Version", VERSION)
            .header("Content-Type", "application/json")
            .send(body);
        let mut response = match posted {
            Ok(response) => response,
            Err(error) => {
                return Answer::Later {
                    wait: None,
                    why: Message::new("send-no-answer").with("error", error.to_string()),
                };
            }
        };
        let status = response.status().as_u16();
        let wait = retry_after(response.headers(), Timestamp::now());
        // The answer must be whole: what is cut may have been anything.
        let read = response
            .body_mut()
            .with_config()
            .limit(1 << 24)
            .read_to_string();
        let said: String = match &read {
            Ok(said) => said
                .chars()
                .filter(|c| !c.is_control())
                .take(ANSWER)
                .collect(),
            Err(error) => error.to_string(),
        };
        let message = |id: &'static str| {
            Message::new(id)
                .with("status", status.to_string())
                .with("answer", said.clone())
        };
        match status {
            200 | 204 if read.is_ok() => Answer::Taken,
            409 => Answer::Conflict,
            400 | 413 | 422 => Answer::NotTaken(format!("{status}: {said}")),
            401 | 403 => Answer::Never(message("send-not-allowed")),
            300..=399 => Answer::Never(message("send-elsewhere")),
            404 | 405 | 410 => Answer::Never(message("send-no-store-there")),
            408 | 425 | 429 | 500..=599 | 200 | 204 => Answer::Later {
                wait,
                why: message("send-later"),
            },
            _ => Answer::Never(message("send-odd-answer")),
        }
    }
}

/// Whether a host is this machine.
fn is_own(host: &str) -> bool {
    let address = host.trim_start_matches('[').trim_end_matches(']');
    let own = address.parse::<IpAddr>();
    host == "localhost" || own.is_ok_and(|ip| ip.is_loopback() && ip != Ipv4Addr::UNSPECIFIED)
}

fn read_certificates(path: &Path) -> Result<RootCerts, EndpointError> {
    let bad = |error: String| EndpointError::Certificate {
        file: path.display().to_string(),
        error,
    };
    let text = std::fs::read(path).map_err(|error| bad(error.to_string()))?;
    let mut certificates: Vec<Certificate> = Vec::new();
    for item in parse_pem(&text) {
        if let PemItem::Certificate(certificate) = item.map_err(|error| bad(error.to_string()))? {
            certificates.push(certificate);
        }
    }
    if certificates.is_empty() {
        return Err(bad("PEM".to_owned()));
    }
    Ok(RootCerts::new_with_certs(&certificates))
}

/// How long the record store asks to wait: in seconds, or until a time of its clock.
fn retry_after(headers: &HeaderMap, now: Timestamp) -> Option<Duration> {
    let asked = headers.get("Retry-After")?.to_str().ok()?.trim();
    let wait = match asked.parse::<u64>() {
        Ok(seconds) => Duration::from_secs(seconds),
        Err(_) => {
            let until = jiff::fmt::rfc2822::parse(asked).ok()?.timestamp();
            Duration::try_from(until.duration_since(now)).unwrap_or_default()
        }
    };
    Some(wait.min(LONGEST_WAIT))
}

impl Records {
    /// Sends what a record store does not have yet, and what waits from before. Whatever happens on the
    /// way stays in the store's queue; `told` hears of every wait.
    ///
    /// # Errors
    /// Where the store cannot be read or written, or another program is sending from it.
    pub fn send(
        &mut self,
        to: &Endpoint,
        class: Option<ClassId>,
        manner: &Manner,
        told: &mut dyn FnMut(&Message, Duration),
    ) -> Result<Sent, RecordsError> {
        let _alone = self.alone()?;
        let mut sent = Sent {
            nobodys: self.enqueue(to.url(), class)?,
            ..Sent::default()
        };
        let (mut batch, mut tries) = (manner.batch.max(1), 0);
        loop {
            let waiting = self.waiting(to.url(), batch)?;
            if waiting.is_empty() {
                break;
            }
            let uids: Vec<&str> = waiting.iter().map(|(uid, _)| uid.as_str()).collect();
            let bodies: Vec<&str> = waiting.iter().map(|(_, body)| body.as_str()).collect();
            self.are_tried(to.url(), &uids)?;
            let count = uids.len() as u64;
            match to.post(&format!("[{}]", bodies.join(","))) {
                Answer::Taken => {
                    self.are_settled(to.url(), &uids, State::Sent, None)?;
                    sent.sent += count;
                    (batch, tries) = (manner.batch.max(1), 0);
                }
                // None of a batch is taken where one is not: look for it.
                Answer::Conflict | Answer::NotTaken(_) if count > 1 => {
                    batch = uids.len().div_ceil(2);
                }
                Answer::Conflict => {
                    self.are_settled(to.url(), &uids, State::Sent, Some("409"))?;
                    sent.already += count;
                    (batch, tries) = (manner.batch.max(1), 0);
                }
                Answer::NotTaken(answer) => {
                    self.are_settled(to.url(), &uids, State::Refused, Some(&answer))?;
                    sent.refused += count;
                    sent.answer = Some(answer);
                    (batch, tries) = (manner.batch.max(1), 0);
                }
                Answer::Later { wait, why } => {
                    tries += 1;
                    if tries >= manner.tries {
                        sent.stopped = Some(why);
                        break;
                    }
                    let own = manner.wait.saturating_mul(1 << (tries - 1).min(16));
                    let wait = wait.unwrap_or(own.min(LONGEST_WAIT));
                    told(&why, wait);
                    std::thread::sleep(wait);
                }
                Answer::Never(why) => {
                    sent.stopped = Some(why);
                    break;
                }
            }
        }
        sent.waiting = self.waiting_for(to.url())?;
        Ok(sent)
    }

    /// Held while one program sends from this store: the system lets it go with the program.
    fn alone(&self) -> Result<File, RecordsError> {
        let path = beside(self.path(), ".sending");
        let io = RecordsError::io(&path);
        let mut options = File::options();
        let file = options.write(true).create(true).truncate(false).open(&path);
        let file = file.map_err(&io)?;
        match file.try_lock() {
            Ok(()) => Ok(file),
            Err(std::fs::TryLockError::WouldBlock) => Err(Message::new("send-busy").into()),
            Err(std::fs::TryLockError::Error(error)) => Err(io(error)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn endpoint(address: &str) -> Result<Endpoint, EndpointError> {
        Endpoint::new(address, "u", "p", None, &Manner::default())
    }

    #[test]
    fn a_password_does_not_go_over_an_open_line() {
        for good in [
            "https://records.example/xapi/",
            "http://127.0.0.1:8080/xapi",
            "http://localhost/x",
            "http://[::1]:9/x",
        ] {
            assert!(endpoint(good).is_ok(), "{good}");
        }
        assert_eq!(
            endpoint("https://a.example/xapi/").ok().unwrap().url(),
            "https://a.example/xapi/statements"
        );
        for open in ["http://records.example/xapi", "http://10.0.0.1/x"] {
            let refused = endpoint(open).err().unwrap();
            assert!(matches!(refused, EndpointError::InClear(_)), "{open}");
        }
        for bad in [
            "",
            "records",
            "ftp://a.example",
            "https://u:p@a.example/",
            "https://a.example/?x",
        ] {
            let refused = endpoint(bad).err().unwrap();
            assert!(matches!(refused, EndpointError::Address(_)), "{bad}");
        }
        let none = Path::new("no-such.pem");
        let refused = Endpoint::new(
            "https://a.example",
            "u",
            "p",
            Some(none),
            &Manner::default(),
        );
        assert!(matches!(refused, Err(EndpointError::Certificate { .. })));
    }

    #[test]
    fn it_waits_as_long_as_it_is_asked_and_no_longer_than_is_sensible() {
        let now: Timestamp = "2026-05-04T10:00:00Z".parse().unwrap();
        let asked = |value: &str| {
            let mut headers = HeaderMap::new();
            headers.insert("Retry-After", value.parse().unwrap());
            retry_after(&headers, now)
        };
        assert_eq!(asked("7"), Some(Duration::from_secs(7)));
        assert_eq!(asked("99999999"), Some(LONGEST_WAIT));
        let date = "Mon, 04 May 2026 10:00:30 GMT";
        assert_eq!(asked(date), Some(Duration::from_secs(30)));
        let past = "Mon, 04 May 2026 09:00:00 GMT";
        assert_eq!(asked(past), Some(Duration::ZERO));
        assert_eq!(asked("soon"), None);
        assert_eq!(retry_after(&HeaderMap::new(), now), None);
    }
}
