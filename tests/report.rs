//! The report of a recording on paper: what it says comes from the verdict, whoever writes a name cannot
//! write into the page, and the page is sound HTML that asks nothing of any network.

#[path = "common/program.rs"]
mod program;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use chockline::domain::set_out::SetOut;
use chockline::evidence::{Figures, Head, Outcome, Recorder, Recording};
use chockline::judge::{explain, play, time_s};
use chockline::operator::member;
use chockline::report::{Paper, Pictures, Standing, Study, Taken, page, rows};
use chockline::scenario;
use chockline::texts::{Lang, Message, Texts};
use html5ever::tendril::TendrilSink;
use html5ever::{ParseOpts, parse_document};
use jiff::Timestamp;
use markup5ever_rcdom::{Handle, NodeData, RcDom};
use program::chockline;

const HASH: &str = "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff";

/// A scenario's text, run by an operator and recorded.
fn recorded(text: &str, operator: &str) -> Recording {
    let loaded = scenario::parse("test.ron", text).unwrap_or_else(|faults| panic!("{faults:?}"));
    let scenario = &loaded.scenario;
    let mut recorder = Recorder::default();
    let member = member(operator).expect("an operator of the roster");
    let played = play(
        scenario,
        scenario.seed,
        member.operator().as_mut(),
        |line, _| recorder.observe(line),
    )
    .unwrap();
    let outcome = Outcome::of(&played.line, played.ending, &Figures::of(&played.line));
    let head = Head::of(&loaded.text, scenario.seed, operator, &played.set_out);
    recorder.finish(&played, head, outcome)
}

fn shipped(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    fs::read_to_string(folder.join(name)).unwrap()
}

/// A double feed: pins left set for another size.
fn double_feed() -> &'static Study {
    static STUDY: OnceLock<Study> = OnceLock::new();
    STUDY.get_or_init(|| {
        let recording = recorded(&shipped("wrong-size.ron"), "leaves-the-setting");
        Study::of("wrong-size", recording, |_| {}).unwrap()
    })
}

fn printed(study: &Study, pictures: &Pictures, lang: Lang) -> String {
    let paper = Paper {
        file: "run.chock",
        sha256: HASH,
        made: Timestamp::UNIX_EPOCH,
        pictures,
    };
    page(study, &paper, Texts::of(lang))
}

fn without() -> Pictures {
    Pictures::Without("paper-pictures-left-out".into())
}

/// An element as an independent parser has read it.
struct Element {
    name: String,
    attributes: Vec<(String, String)>,
    /// The names of what it stands in, the innermost last.
    inside: Vec<String>,
    /// What is read in it, with single spaces.
    words: String,
    /// The elements in it, all the way down: so many after it.
    within: usize,
}

/// A page, its elements in their order.
struct Parsed {
    elements: Vec<Element>,
    errors: Vec<String>,
}

impl Element {
    fn attr(&self, name: &str) -> Option<&str> {
        let mut attributes = self.attributes.iter();
        let found = attributes.find(|(known, _)| known == name);
        found.map(|(_, value)| value.as_str())
    }

    fn has_class(&self, class: &str) -> bool {
        let classes = self.attr("class").unwrap_or_default();
        classes.split(' ').any(|known| known == class)
    }
}

impl Parsed {
    fn of(text: &str) -> Self {
        let dom = parse_document(RcDom::default(), ParseOpts::default()).one(text);
        let mut parsed = Self {
            elements: Vec::new(),
            errors: dom
                .errors
                .borrow()
                .iter()
                .map(ToString::to_string)
                .collect(),
        };
        parsed.walk(&dom.document, &mut Vec::new());
        parsed
    }

    /// Takes a node and what is in it; gives its text.
    fn walk(&mut self, node: &Handle, inside: &mut Vec<String>) -> String {
        let mut text = String::new();
        if let NodeData::Text { contents } = &node.data {
            text.push_str(&contents.borrow());
        }
        let mut at = None;
        if let NodeData::Element { name, attrs, .. } = &node.data {
            at = Some(self.elements.len());
            let attributes = attrs.borrow();
            let attributes = attributes
                .iter()
                .map(|attr| (attr.name.local.to_string(), attr.value.to_string()));
            self.elements.push(Element {
                name: name.local.to_string(),
                attributes: attributes.collect(),
                inside: inside.clone(),
                words: String::new(),
                within: 0,
            });
            inside.push(name.local.to_string());
        }
        for child in node.children.borrow().iter() {
            text.push_str(&self.walk(child, inside));
        }
        if let Some(at) = at {
            inside.pop();
            let within = self.elements.len() - at - 1;
            let element = &mut self.elements[at];
            element.within = within;
            element.words = plain(&text);
            // Blocks and cells stand apart.
            text = format!(" {text} ");
        }
        text
    }

    fn all(&self, name: &str) -> Vec<&Element> {
        let elements = self.elements.iter();
        elements.filter(|element| element.name == name).collect()
    }

    /// The elements in another.
    fn within(&self, outer: &Element) -> &[Element] {
        let at = self.elements.iter().position(|e| std::ptr::eq(e, outer));
        let at = at.expect("of this page") + 1;
        &self.elements[at..at + outer.within]
    }

    fn words(&self) -> &str {
        &self.all("body")[0].words
    }
}

fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_it_says_of_the_score_is_what_the_judge_found() {
    let study = double_feed();
    let texts = Texts::of(Lang::English);
    let html = Parsed::of(&printed(study, &without(), Lang::English));
    let articles = html.all("article");
    assert!(articles.len() >= 2, "{}", articles.len());
    assert_eq!(articles.len(), study.verdict.findings.len());
    assert!(articles.iter().all(|article| article.has_class("finding")));
    for (line, article) in study.verdict.score.lines.iter().zip(&articles) {
        let finding = &study.verdict.findings[line.finding];
        let explained = explain(finding.kind);
        let said = &article.words;
        // Act, consequence, right act, in this order.
        let mut from = 0;
        for piece in [
            texts.say(&explained.title),
            format!("\u{2212}{:.0} points", line.points),
            texts.say(&finding.act.said()),
            texts.say(&finding.fact),
            texts.say(&explained.why),
            texts.say(&explained.right),
            texts.say(&explained.rule),
        ] {
            let piece = plain(&piece);
            let at = said[from..].find(&piece);
            let at = at.unwrap_or_else(|| panic!("{piece:?} does not follow in {said:?}"));
            from += at + piece.len();
        }
        assert!(said.contains(&format!("{:.1} s", time_s(finding.tick))));
    }
    // What was found by running it again.
    let (place, inquiry) = &study.inquiries()[0];
    assert!(!inquiry.causes.is_empty());
    let chained = study.verdict.score.lines.iter();
    let article = chained.zip(&articles).find(|(l, _)| l.finding == *place);
    let chain = &article.unwrap().1.words;
    for cause in &inquiry.causes {
        assert!(chain.contains(&plain(&texts.say(&cause.said()))), "{chain}");
    }
    let chance = inquiry.last_chance.expect("the emergency stop helps");
    assert!(chain.contains(&plain(&texts.say(&chance.rescue.said()))));
    // The table adds up.
    let table = html.all("table")[0];
    let rows = html.within(table).iter();
    let rows = rows.filter(|row| row.name == "tr" && !row.inside.contains(&"thead".into()));
    let figures: Vec<f64> = rows
        .map(|row| {
            let last = html.within(row).iter().rfind(|cell| cell.name == "td");
            let points = last.unwrap().words.replace('\u{2212}', "-");
            points.parse().unwrap()
        })
        .collect();
    let (total, lines) = figures.split_last().unwrap();
    assert_eq!(lines.iter().sum::<f64>().max(0.0), *total);
    assert_eq!(*total, study.verdict.score.points);

    let said = html.words();
    for piece in [
        HASH,
        "chockline replay run.chock --verify",
        "recorded states agreed to the last bit",
        "does not replace the maker's manual",
        "Double feed",
        "1970-01-01",
        &study.seed().to_string(),
        study.recorded_by()[1],
    ] {
        assert!(said.contains(piece), "{piece}");
    }
}

#[test]
fn settings_stand_against_what_they_should_be() {
    let study = double_feed();
    let found = study.scenario.line_for(study.seed());
    let texts = Texts::of(Lang::English);
    let size = Message::new("setting-size");
    let standing = |rows: &[chockline::report::Row]| {
        let row = rows.iter().find(|row| row.name == size).unwrap();
        (row.standing, texts.say(&row.set), texts.say(&row.right))
    };
    let (left, set, right) = standing(&rows(&found, &study.spec));
    assert_eq!(left, Standing::Wrong);
    assert_ne!(set, right);
    let expert = member("expert").unwrap().operator();
    let set_out: SetOut = expert.set_out(&found, study.scenario.set_out_open);
    let sound = set_out
        .applied(&found, study.scenario.set_out_open)
        .unwrap();
    let all = rows(&found, &sound);
    assert_eq!(standing(&all).0, Standing::Right);
    assert!(
        all.iter().all(|row| row.standing == Standing::Right),
        "{all:#?}"
    );
}

/// What holds of every page, whatever it says.
fn sound(text: &str, lang: Lang) {
    let html = Parsed::of(text);
    assert!(html.errors.is_empty(), "{:?}", html.errors);
    assert_eq!(html.all("html")[0].attr("lang"), Some(lang.code()));

    // One title, and no heading that leaves a level out.
    let levels: Vec<u32> = html
        .elements
        .iter()
        .filter_map(|element| element.name.strip_prefix('h')?.parse().ok())
        .collect();
    assert_eq!(levels.iter().filter(|level| **level == 1).count(), 1);
    assert_eq!(levels[0], 1);
    assert!(levels.windows(2).all(|pair| pair[1] <= pair[0] + 1));
    assert!(html.all("main").len() == 1 && html.all("title").len() == 1);

    for table in html.all("table") {
        let heads = html.within(table).iter().filter(|cell| {
            cell.inside.contains(&"thead".into()) && cell.attr("scope") == Some("col")
        });
        assert!(heads.count() > 1);
    }
    for image in html.all("img") {
        assert!(image.attr("alt").is_some_and(|alt| alt.len() > 10));
        assert!(image.attr("src").unwrap().starts_with("data:image/"));
    }
    for drawn in html.all("svg") {
        let shown = drawn.attr("role") == Some("img");
        let said = drawn.attr("aria-label").is_some_and(|said| said.len() > 10);
        let hidden = drawn.attr("aria-hidden") == Some("true");
        assert!(hidden || (shown && said), "{:?}", drawn.attributes);
    }
    // Nothing is fetched, nothing runs.
    for place in ["script", "link", "iframe", "object", "base", "form"] {
        assert!(html.all(place).is_empty(), "{place}");
    }
    for element in &html.elements {
        for (name, value) in &element.attributes {
            assert!(!name.starts_with("on"), "{name}");
            let fetches = matches!(name.as_str(), "src" | "href" | "srcset" | "action" | "data");
            assert!(!fetches || value.starts_with("data:"), "{name}={value}");
        }
    }
    assert!(!text.contains("://"), "an address");
    assert!(!text.contains("@import"));
    let urls = text.match_indices("url(");
    for (at, _) in urls {
        assert!(text[at..].starts_with("url(data:"));
    }
    let metas = html.all("meta").into_iter();
    let mut policies = metas.filter(|meta| meta.attr("http-equiv").is_some());
    let policy = policies.next().expect("a policy").attr("content").unwrap();
    assert!(policy.contains("default-src 'none'"));

    // Everything is said in words of the catalogue.
    let said = html.words();
    let ids = [
        "paper-", "finding-", "setting-", "report-", "known-", "plot-",
    ];
    for piece in said.split(' ') {
        assert!(!ids.iter().any(|id| piece.starts_with(id)), "{piece}");
    }
}

#[test]
fn pages_are_sound_in_every_language() {
    let study = double_feed();
    for lang in Lang::ALL {
        sound(&printed(study, &without(), lang), lang);
    }
    let [english, spanish] = Lang::ALL.map(|lang| {
        let html = Parsed::of(&printed(study, &without(), lang));
        let named = html.elements.into_iter().filter(|element| {
            matches!(element.name.as_str(), "h2" | "dt") || element.attr("scope") == Some("col")
        });
        named.map(|element| element.words).collect::<Vec<_>>()
    });
    assert_eq!(english.len(), spanish.len());
    let same = english
        .iter()
        .zip(&spanish)
        .filter(|(one, other)| one == other);
    // A few words are the same in both.
    assert!(same.count() * 10 < english.len());
}

#[test]
fn a_run_without_a_finding_has_a_page_too() {
    let recording = recorded(&shipped("first-release.ron"), "expert");
    let study = Study::of("first-release", recording, |_| {}).unwrap();
    assert!(study.verdict.findings.is_empty());
    let text = printed(&study, &without(), Lang::English);
    sound(&text, Lang::English);
    assert!(text.contains("nothing is taken off"));
    assert!(
        !study.moments().is_empty(),
        "what came nearest, and the end"
    );
}

#[test]
fn whoever_writes_a_name_cannot_write_into_the_page() {
    let hostile = r#"</title></style><script>alert(1)</script>'\"&<img src=x onerror=alert(1)>"#;
    let name = "\"First release\"";
    let text = shipped("first-release.ron");
    assert!(text.contains(name));
    let spanish = "\"Primera alimentación\"";
    assert!(text.contains(spanish));
    let written = format!("{hostile:?}");
    let text = text.replace(name, &written).replace(spanish, &written);
    let mut recording = recorded(&text, "expert");
    recording.head.operator = hostile.to_owned();
    recording.head.maker.version = hostile.to_owned();
    let study = Study::of(hostile, recording, |_| {}).unwrap();
    for lang in Lang::ALL {
        let paper = Paper {
            file: hostile,
            sha256: HASH,
            made: Timestamp::UNIX_EPOCH,
            pictures: &without(),
        };
        let text = page(&study, &paper, Texts::of(lang));
        assert!(!text.contains("<script") && !text.contains("<img"));
        sound(&text, lang);
        let html = Parsed::of(&text);
        let title = &html.all("h1")[0].words;
        assert!(
            title.contains("</style><script>alert(1)</script>"),
            "{title}"
        );
    }
}

/// On another machine the bits may differ: then the score is still that of the recording, and nothing is
/// told that would be another run's.
#[test]
fn what_cannot_be_run_again_to_the_same_is_said() {
    let mut recording = recorded(&shipped("wrong-size.ron"), "leaves-the-setting");
    recording.states.hashes[3].1 ^= 1;
    let study = Study::of("wrong-size", recording, |_| {}).unwrap();
    assert!(study.again.is_none() && study.moments().is_empty());
    assert_eq!(study.verdict, double_feed().verdict);
    let text = printed(&study, &without(), Lang::English);
    sound(&text, Lang::English);
    assert!(text.contains("did not come to the same"));
    assert!(!text.contains("to the last bit"));
}

#[test]
fn every_decisive_moment_has_its_picture() {
    let study = double_feed();
    let mut seen = Vec::new();
    let drawn = study.drawn(|line, moment| {
        seen.push((line.tick_count(), moment.tick));
        Ok::<_, ()>(Taken {
            bytes: vec![0xff, 0xd8, 0xff],
            media_type: "image/jpeg",
            size: [16, 9],
        })
    });
    let taken = drawn.unwrap();
    assert_eq!(taken.len(), 3, "act, last chance, outcome");
    assert!(seen.iter().all(|(drawn, wanted)| drawn == wanted));
    let text = printed(study, &Pictures::Taken(taken), Lang::Spanish);
    sound(&text, Lang::Spanish);
    assert_eq!(text.matches("data:image/jpeg;base64,/9j/").count(), 3);
}

/// Relative luminance of a colour (WCAG 2.2).
fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let byte = u8::from_str_radix(&colour[at..at + 2], 16).unwrap();
        let part = f64::from(byte) / 255.0;
        if part <= 0.04045 {
            part / 12.92
        } else {
            ((part + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

#[test]
fn colours_stand_out_from_what_they_stand_on() {
    let style = include_str!("../assets/page/page.css");
    let colour = |name: &str| {
        if name.starts_with('#') {
            return name.to_owned();
        }
        let entry = format!("--{name}: ");
        let at = style.find(&entry).unwrap_or_else(|| panic!("{name}")) + entry.len();
        style[at..at + 7].to_owned()
    };
    let contrast = |one: &str, other: &str| {
        let [a, b] = [one, other].map(|name| luminance(&colour(name)) + 0.05);
        a.max(b) / a.min(b)
    };
    assert!((contrast("#ffffff", "#000000") - 21.0).abs() < 1e-9);
    // Text; on white as it is printed.
    for (text, ground) in [
        ("ink", "paper"),
        ("ink", "card"),
        ("ink", "#ffffff"),
        ("weak", "paper"),
        ("weak", "card"),
        ("weak", "#ffffff"),
        ("accent", "paper"),
        ("ink", "ok"),
        ("ink", "caution"),
        ("on-danger", "danger"),
    ] {
        let found = contrast(text, ground);
        assert!(found >= 4.5, "{text} on {ground}: {found:.2}");
    }
    // Lines and shapes that mean something.
    for mark in ["accent", "second", "danger", "zone", "edge", "ink"] {
        for ground in ["card", "paper", "#ffffff"] {
            let found = contrast(mark, ground);
            assert!(found >= 3.0, "{mark} on {ground}: {found:.2}");
        }
    }
}

/// From the command line: nothing is lost that is not a report.
#[test]
fn nothing_but_a_report_is_replaced() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    let text = |path: &PathBuf| path.to_str().unwrap().to_owned();
    let (run, out, other) = (path("run.chock"), path("report.html"), path("notes.html"));
    let scenario = "scenarios/first-release.ron";
    let made = chockline(&["run", scenario, "--record", &text(&run)]);
    assert_eq!(made.status.code(), Some(0));
    let bytes = fs::read(&run).unwrap();
    fs::write(&other, "<!DOCTYPE html><p>my notes").unwrap();
    let report = |place: &PathBuf, more: &[&str]| {
        let (run, place) = (text(&run), text(place));
        let mut args = vec!["report", &run, "--out", &place, "--no-pictures"];
        args.extend(more);
        let output = chockline(&args);
        let said = String::from_utf8(output.stderr).unwrap();
        (output.status.code(), said)
    };
    assert_eq!(report(&out, &[]).0, Some(0));
    let first = fs::read_to_string(&out).unwrap();
    sound(&first, Lang::English);
    assert_eq!(report(&out, &["--lang", "es"]).0, Some(0), "a report is");
    sound(&fs::read_to_string(&out).unwrap(), Lang::Spanish);

    let (code, said) = report(&other, &[]);
    assert_eq!(code, Some(2));
    assert!(
        said.contains("notes.html") && said.contains("--replace"),
        "{said}"
    );
    assert_eq!(fs::read(&other).unwrap(), b"<!DOCTYPE html><p>my notes");
    for more in [&[][..], &["--replace"]] {
        let (code, said) = report(&run, more);
        assert_eq!(code, Some(2));
        assert!(said.contains("the recording"), "{said}");
        assert_eq!(fs::read(&run).unwrap(), bytes);
    }
    assert_eq!(report(&other, &["--replace"]).0, Some(0));

    // One that was cut short has a report that says so.
    let torn = path("torn.chock");
    fs::write(&torn, &bytes[..bytes.len() / 2]).unwrap();
    let made = chockline(&[
        "report",
        &text(&torn),
        "--out",
        &text(&out),
        "--no-pictures",
    ]);
    assert_eq!(made.status.code(), Some(0));
    let page = fs::read_to_string(&out).unwrap();
    sound(&page, Lang::English);
    assert!(page.contains("Cut short"));

    // What is no recording is told, and leaves nothing behind.
    let broken = path("broken.chock");
    let mut damaged = bytes.clone();
    damaged[bytes.len() / 2] ^= 1;
    fs::write(&broken, damaged).unwrap();
    let none = path("none.html");
    for bad in [broken, path("no_such.chock"), other] {
        let output = chockline(&["report", &text(&bad), "--out", &text(&none)]);
        assert_eq!(output.status.code(), Some(2), "{bad:?}");
        assert!(!output.stderr.is_empty() && !none.exists());
    }
    let nowhere = path("no_folder").join("x.html");
    let (code, said) = report(&nowhere, &[]);
    assert_eq!(code, Some(2));
    assert!(said.contains("x.html"), "{said}");
}
