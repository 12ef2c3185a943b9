//! The coach, the commentary, the story, the debrief and the drills, on whole runs without a window.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::fs;
use std::path::Path;

use chockline::domain::finding::{FindingKind, Severity};
use chockline::domain::set_out::SetOut;
use chockline::domain::spec::LineSpec;
use chockline::judge::{Logger, NoResult, Played, judge, play};
use chockline::operator::{Doing, Habits, Member, Operator, ROSTER, Shadow, Worker, member};
use chockline::scenario::{Goal, Scenario, load};
use chockline::session::coach::{Action, Advice, Coach, Hint, Off, StepId, Task, set_out_advice};
use chockline::session::commentary::{Commentator, Speaker};
use chockline::session::debrief::{Debrief, MarkKind, PlotKind, Tracer, clusters, plots, trace};
use chockline::session::drills::{Drill, Drills};
use chockline::session::story::{Reflection, Story, still_moving};
use chockline::sim::controls::{Button, Controls, Held};
use chockline::sim::line::{EventKind, Line, StickPlace};
use chockline::texts::{Lang, Message, Texts};
use rayon::prelude::*;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn scenario(name: &str) -> Scenario {
    let path = root().join("scenarios").join(name).with_extension("ron");
    load(&path).expect("a sound scenario").scenario
}

fn all_scenarios() -> Vec<String> {
    let folder = fs::read_dir(root().join("scenarios")).unwrap();
    let mut names: Vec<String> = folder
        .filter_map(|entry| {
            let name = entry.unwrap().file_name().into_string().unwrap();
            Some(name.strip_suffix(".ron")?.to_owned())
        })
        .collect();
    names.sort();
    names
}

/// Said in both languages, without a gap or an entry that lacks.
fn said(message: &Message) -> String {
    let [english, _] = Lang::ALL.map(|lang| {
        let text = Texts::of(lang).try_say(message);
        text.unwrap_or_else(|(_, why)| panic!("{lang:?}: {why}"))
    });
    english
}

fn play_with(scenario: &Scenario, operator: &mut dyn Operator) -> Played {
    match play(scenario, scenario.seed, operator, |_, _| {}) {
        Ok(played) => played,
        Err(NoResult::SetOut(fault)) => panic!("{fault:?}"),
        Err(NoResult::Fault(fault)) => panic!("{fault:?}"),
    }
}

/// Does exactly what the coach says and nothing else: so fast, and with as steady a hand.
struct Trainee<'a> {
    scenario: &'a Scenario,
    /// From what is said to what is done, in ticks, and how long after a tap it is looked again.
    slow_ticks: usize,
    coach: Option<Coach>,
    last: Controls,
    waiting: VecDeque<Option<Action>>,
    tapping: usize,
    resting: usize,
    said: Option<u64>,
    done: bool,
    /// Every step that was advised, and the texts.
    steps: Vec<StepId>,
    texts: BTreeSet<String>,
}

impl<'a> Trainee<'a> {
    fn new(scenario: &'a Scenario, slow_ticks: usize) -> Self {
        Self {
            scenario,
            slow_ticks,
            coach: None,
            last: Controls::default(),
            waiting: VecDeque::new(),
            tapping: 0,
            resting: 0,
            said: None,
            done: false,
            steps: Vec::new(),
            texts: BTreeSet::new(),
        }
    }

    fn note(&mut self, advice: &Advice) {
        if self.steps.last() != Some(&advice.step) {
            self.steps.push(advice.step);
        }
        assert!(!advice.parts.is_empty() || advice.action.is_none());
        for message in [&advice.what, &advice.why]
            .into_iter()
            .chain(&advice.off_path)
        {
            if self.texts.len() < 2000 {
                self.texts.insert(said(message));
            }
        }
    }

    /// The controls by an action, from those of the tick before.
    fn act(&mut self, action: Option<Action>, tick: u64) -> Controls {
        let latched = Controls {
            emergency_stop: self.last.emergency_stop,
            isolated: self.last.isolated,
            ..Controls::default()
        };
        let held = |held: Held| Controls { held, ..latched };
        match action {
            None | Some(Action::LetGo) => latched,
            Some(Action::Hold(buttons)) => held(buttons),
            Some(Action::Tap(buttons)) => {
                if self.resting > 0 {
                    self.resting -= 1;
                    return latched;
                }
                self.tapping += 1;
                let slow = self.slow_ticks > 0;
                let long = if buttons.has(Button::AdvanceOn) {
                    30
                } else {
                    17
                };
                if self.tapping > if slow { long } else { 10 } {
                    self.tapping = 0;
                    self.resting = if slow { 120 } else { 14 };
                }
                held(buttons)
            }
            Some(Action::Say(call)) => {
                // Said once, and then it is waited for what comes of it.
                let again = self.said.is_none_or(|at| tick > at + 240);
                self.said = if again { Some(tick) } else { self.said };
                Controls {
                    call: again.then_some(call),
                    ..latched
                }
            }
            Some(Action::Isolate) => Controls {
                isolated: true,
                ..latched
            },
            Some(Action::PowerOn) => Controls {
                isolated: false,
                ..latched
            },
            Some(Action::ReleaseStop) => Controls {
                emergency_stop: false,
                ..latched
            },
        }
    }
}

impl Operator for Trainee<'_> {
    fn set_out(&self, as_found: &LineSpec, open: bool) -> SetOut {
        Worker::new(Habits::SOUND).set_out(as_found, open)
    }

    fn controls(&mut self, line: &Line) -> Controls {
        match &mut self.coach {
            None => self.coach = Some(Coach::new(self.scenario, line)),
            Some(coach) => coach.look(line, &self.last),
        }
        let advice = self.coach.as_ref().expect("a coach").advice(line);
        if line.tick_count().is_multiple_of(24) {
            self.note(&advice);
        }
        self.done =
            matches!(advice.step, StepId::Work(Doing::Done { .. })) && advice.action.is_none();
        self.waiting.push_back(advice.action);
        let action = if self.waiting.len() > self.slow_ticks {
            self.waiting.pop_front().flatten()
        } else {
            None
        };
        self.last = self.act(action, line.tick_count());
        self.last
    }

    fn is_done(&self) -> bool {
        self.done
    }
}

fn told(played: &Played) -> String {
    let findings = played.verdict.findings.iter();
    let findings = findings.map(|finding| {
        let time_s = finding.tick as f64 / 240.0;
        format!(
            "{time_s:.1} s {}: {}\n",
            finding.kind.id(),
            said(&finding.fact)
        )
    });
    let events = played.log.events.iter().rev().take(30).rev();
    let events = events.map(|noted| {
        let time_s = noted.event.tick as f64 / 240.0;
        format!("{time_s:.1} s {:?}\n", noted.event.kind)
    });
    findings.chain(events).collect()
}

fn all_are_asked_for() -> bool {
    std::env::var_os("CHOCKLINE_COACH_ALL").is_some()
}

/// Scenarios on which the coach is followed; all of them where it is asked for.
fn followed() -> Vec<String> {
    if all_are_asked_for() {
        return all_scenarios();
    }
    let some = [
        "first-shift",
        "steady-feed",
        "crossed-hose",
        "receiver-down",
        "visitor",
        "hung-stick",
        "loaded-row",
        "star-wheel",
    ];
    some.map(str::to_owned).to_vec()
}

#[test]
fn whoever_does_what_the_coach_says_passes_without_a_finding() {
    let failed: Vec<String> = followed()
        .par_iter()
        .filter_map(|name| {
            let scenario = scenario(name);
            let mut trainee = Trainee::new(&scenario, 0);
            let played = play_with(&scenario, &mut trainee);
            let coach = trainee.coach.as_ref().expect("a coach");
            let sound = played.verdict.score.passed && played.verdict.findings.is_empty();
            let on_path = coach.left_path().is_empty();
            let right = coach.right_cycles() as usize == played.line.sticks().len();
            let joined = scenario.goal == Goal::Joined;
            (!sound || !on_path || (joined && !right)).then(|| {
                let steps = trainee.steps.iter().rev().take(12).rev();
                let steps: Vec<_> = steps.collect();
                format!(
                    "{name} at {:.1} s: {:?}\n{}{steps:?}",
                    played.line.time_s(),
                    coach.left_path(),
                    told(&played)
                )
            })
        })
        .collect();
    assert!(failed.is_empty(), "{}", failed.join("\n\n"));
}

/// A third of a second from the word to the hand, and half a second between taps.
#[test]
fn whoever_is_slow_passes_too() {
    let names = ["first-shift", "flat-oval", "visitor"];
    let failed: Vec<String> = names
        .par_iter()
        .filter_map(|name| {
            let scenario = scenario(name);
            let mut trainee = Trainee::new(&scenario, 80);
            let played = play_with(&scenario, &mut trainee);
            let grave = played
                .verdict
                .findings
                .iter()
                .any(|finding| finding.kind.severity() > Severity::Minor);
            (grave || !played.verdict.score.passed)
                .then(|| format!("{name} at {:.1} s\n{}", played.line.time_s(), told(&played)))
        })
        .collect();
    assert!(failed.is_empty(), "{}", failed.join("\n\n"));
}

#[test]
fn the_expert_is_never_off_the_path() {
    let mut names = followed();
    // One stick more is no other work.
    names.retain(|name| name != "steady-feed" || all_are_asked_for());
    let wrong: Vec<String> = names
        .par_iter()
        .filter_map(|name| {
            let scenario = scenario(name);
            let (left, _) = watched(&scenario, member("expert").unwrap(), |_| false);
            (!left.is_empty()).then(|| format!("{name}: {left:?}"))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What the coach notices of an operator: at which tick, what; until enough is noticed. And when the
/// judge has found what is theirs by then.
fn watched(
    scenario: &Scenario,
    member: &Member,
    enough: impl Fn(&[(u64, Off)]) -> bool,
) -> (Vec<(u64, Off)>, Option<u64>) {
    let mut operator = member.operator();
    let as_found = scenario.line_for(scenario.seed);
    let open = scenario.set_out_open;
    let spec = operator.set_out(&as_found, open).applied(&as_found, open);
    let spec = spec.expect("a line set out");
    let mut line = Line::build(&spec);
    let (mut coach, mut logger) = (Coach::new(scenario, &line), Logger::default());
    let mut rested = 0;
    while line.time_s() < scenario.time_limit_s && rested < 240 && !enough(coach.left_path()) {
        let controls = operator.controls(&line);
        line.tick(&controls);
        assert_eq!(line.fault(), None);
        coach.look(&line, &controls);
        logger.observe(&line, &controls);
        let rests = operator.is_done() && line.is_at_rest();
        rested = if rests { rested + 1 } else { 0 };
    }
    let mut left = coach.left_path().to_vec();
    left.extend(
        coach
            .leaving(&line)
            .map(|_| (line.tick_count(), Off::LeftLive)),
    );
    let findings = judge(scenario, &spec, logger.log()).findings;
    let mut own = findings.iter().filter(|f| Some(f.kind) == member.finding);
    (left, own.next().map(|finding| finding.tick))
}

/// What is to be noticed of each operator in error.
fn expected(name: &str) -> &'static [Off] {
    match name {
        "lets-go-early" => &[Off::LetGoEarly],
        "feeds-too-soon" => &[Off::FedOccupied],
        "forgets-the-receiver" => &[Off::FedReceiverDown],
        "lowers-at-once" => &[Off::LoweredRocking],
        "one-end-first" => &[Off::OneEnd],
        "by-eye" => &[Off::ClampUntrue],
        "never-turns" => &[Off::NotTurned, Off::ClampNotTurned],
        "advances-low" => &[Off::AdvancedLow],
        "into-the-string" => &[Off::HeldAdvance],
        "rushes-the-joint" => &[Off::Unclamped],
        "calls-nobody-out" => &[Off::FedNotCleared, Off::FedWithPeople],
        "bars-from-below" => &[Off::BarredFromBelow],
        "jacks-under-load" => &[Off::Jacked],
        "trusts-the-arrows" => &[Off::FedUnchecked],
        "loads-unchocked" => &[Off::LoadedUnchocked],
        "leaves-it-live" => &[Off::LeftLive],
        "heeds-no-spotter" => &[Off::MovedWithPeople, Off::FedWithPeople],
        "takes-as-found" | "leaves-the-setting" | "skips-the-walk-round" | "no-zone" => {
            &[Off::NotSetOut]
        }
        "blows-no-horn" => &[Off::FedNoHorn],
        "holds-at-the-stop" => &[Off::HeldAtEnd],
        "dawdles" => &[Off::Waited],
        "overloads" => &[Off::Overloaded],
        other => panic!("nothing is expected of {other}"),
    }
}

/// The scenario with the fewest sticks in which somebody fails by what is theirs, by the table.
fn shown_on(name: &str) -> Scenario {
    let table = fs::read_to_string(root().join("tests/data/matrix.csv")).unwrap();
    let rows = table.lines().filter_map(|row| {
        let mut cells = row.split(',');
        let (on, by, result) = (cells.next()?, cells.next()?, cells.next()?);
        (by == name && result.starts_with("fails by ")).then(|| scenario(on))
    });
    rows.min_by_key(|scenario| scenario.line.stick_count())
        .unwrap_or_else(|| panic!("{name} fails nowhere"))
}

/// Before the finding, or as it comes.
#[test]
fn every_operator_in_error_is_noticed_in_time() {
    let erring: Vec<&Member> = ROSTER.iter().filter(|m| m.finding.is_some()).collect();
    let missed: Vec<String> = erring
        .par_iter()
        .filter_map(|member| {
            let wanted = expected(member.name);
            let scenario = shown_on(member.name);
            let noticed = |left: &[(u64, Off)]| {
                let of_theirs = left.iter().find(|(_, off)| wanted.contains(off));
                of_theirs.map(|(tick, _)| *tick)
            };
            let (left, found) = watched(&scenario, member, |left| noticed(left).is_some());
            let in_time = noticed(&left)
                .is_some_and(|tick| found.is_none_or(|found| tick <= found + AT_ONCE_TICKS));
            (!in_time).then(|| {
                let name = &scenario.texts.name;
                format!("{} on {name}: {left:?}, found at {found:?}", member.name)
            })
        })
        .collect();
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

/// How long after a finding a word still comes with it, ticks.
const AT_ONCE_TICKS: u64 = 120;

#[test]
fn the_set_out_is_led_to_its_end() {
    for name in all_scenarios() {
        let scenario = scenario(&name);
        let open = scenario.set_out_open;
        let found = scenario.line_for(scenario.seed);
        let mut settings = Vec::new();
        let mut last = usize::MAX;
        loop {
            let set_out = SetOut {
                settings: std::mem::take(&mut settings),
            };
            let now = set_out.applied(&found, open).expect("a line set out");
            settings = set_out.settings;
            let advice = set_out_advice(&found, &now, open);
            assert!(!said(&advice.what).is_empty() && !said(&advice.why).is_empty());
            assert!(!advice.parts.is_empty());
            let left = Shadow::left_to_set(&now, open);
            if advice.step == StepId::SetOut(Task::Begin) {
                assert!(left.is_empty(), "{name}");
                break;
            }
            assert!(
                left.len() < last,
                "{name}: {advice:?} comes again: {left:?}"
            );
            last = left.len();
            settings.extend(left.first().cloned());
        }
    }
}

#[test]
fn hints_fade_with_success_and_come_back_with_a_slip() {
    let scenario = scenario("first-shift");
    let as_found = scenario.line_for(scenario.seed);
    let line = Line::build(&as_found);
    let hint = |cycles: u32| {
        let mut coach = Coach::new(&scenario, &line).with_right_cycles(cycles);
        let mut line = line.fork();
        let ready = Controls::held([Button::Feed]);
        // Straight to feeding: a slip.
        for _ in 0..24 {
            line.tick(&ready);
            coach.look(&line, &ready);
        }
        let advice = coach.advice(&line);
        assert_eq!(advice.step, StepId::Work(Doing::Feed));
        assert!(advice.off_path.is_some());
        (coach.right_cycles(), advice.hint)
    };
    assert_eq!(hint(0).1, Hint::Full);
    let (cycles, after) = hint(3);
    assert!(
        cycles < 3 && after < Hint::OnRequest,
        "a slip brings it back"
    );
    let coach = Coach::new(&scenario, &line).with_right_cycles(9);
    // What comes once is always told in full.
    assert_eq!(coach.advice(&line).hint, Hint::Full);
}

#[test]
fn the_coach_takes_up_wherever_a_line_stands() {
    let scenario = scenario("first-shift");
    let mut trainee = Trainee::new(&scenario, 0);
    let mut stands: BTreeMap<u64, Line> = BTreeMap::new();
    let played = play(&scenario, scenario.seed, &mut trainee, |line, _| {
        if line.tick_count() % 4800 == 2400 {
            stands.insert(line.tick_count(), line.fork());
        }
    });
    assert!(played.is_ok_and(|played| played.verdict.score.passed));
    assert!(stands.len() >= 4);
    for (tick, mut line) in stands {
        let mut trainee = Trainee::new(&scenario, 0);
        while line.time_s() < scenario.time_limit_s && !trainee.is_done() {
            let controls = trainee.controls(&line);
            line.tick(&controls);
        }
        let joined = line
            .sticks()
            .all(|stick| line.place(stick) == StickPlace::Joined);
        assert!(joined && line.is_isolated(), "from tick {tick}");
    }
}

#[test]
fn a_demonstration_is_commented_step_by_step() {
    let scenario = scenario("first-shift");
    let run = |name: &str| {
        let mut operator = member(name).unwrap().operator();
        let as_found = scenario.line_for(scenario.seed);
        let open = scenario.set_out_open;
        let spec = operator.set_out(&as_found, open).applied(&as_found, open);
        let mut line = Line::build(&spec.expect("a line set out"));
        let mut commentator = Commentator::new(&scenario, &line);
        let mut captions = Vec::new();
        while line.time_s() < 180.0 && !operator.is_done() {
            let controls = operator.controls(&line);
            line.tick(&controls);
            captions.extend(commentator.see(&line, &controls));
        }
        captions
    };
    let right = run("expert");
    assert!(right.is_sorted_by_key(|caption| caption.tick));
    let ids: Vec<&str> = right.iter().map(|caption| caption.said.id()).collect();
    for id in [
        "step-try",
        "step-clear",
        "radio-clear",
        "step-horn",
        "sound-horn",
        "step-feed",
        "event-passed-gate",
        "step-lower",
        "step-raise",
        "step-advance",
        "radio-clamp",
        "radio-clamped",
        "step-join",
        "radio-joined",
        "step-done",
    ] {
        assert!(ids.contains(&id), "{id}: {ids:?}");
    }
    assert!(ids.iter().all(|id| !id.starts_with("off-")));
    assert!(right.len() < 90, "{} captions are too many", right.len());
    for caption in &right {
        assert!(!said(&caption.said).is_empty());
        assert!(caption.why.is_none() || caption.speaker == Speaker::Commentator);
        caption
            .why
            .iter()
            .for_each(|why| assert!(!said(why).is_empty()));
    }
    let wrong = run("lets-go-early");
    let named = wrong.iter().any(|c| c.said.id() == "off-let-go-early");
    assert!(named, "the act in error is named");
}

/// What an operator comes to, with the story of it.
fn story(scenario: &Scenario, name: &str) -> (Played, Story) {
    let mut operator = member(name).unwrap().operator();
    let played = play_with(scenario, operator.as_mut());
    let inquiries = played.inquiries(scenario);
    let story = Story::of(&played.rerun(scenario), &played.verdict, &inquiries);
    let story = story.unwrap_or_else(|| panic!("no story of {name}: {}", told(&played)));
    (played, story)
}

#[test]
fn a_story_tells_act_last_chance_and_outcome_as_the_judge_found_them() {
    let scenario = scenario("first-shift");
    let (played, story) = story(&scenario, "one-end-first");
    assert_eq!(story.told().kind, FindingKind::LiftTilt);
    assert_eq!(played.verdict.findings[story.finding], *story.told());
    let [act, point, outcome] = story.beats();
    assert_eq!(outcome.tick, story.told().tick);
    assert!(act.tick < outcome.tick);
    let chance = story.inquiry.last_chance.expect("a last chance");
    assert_eq!(point.tick, chance.tick);
    assert!(point.tick <= outcome.tick);
    // The act is one without which it does not come.
    assert!(
        story
            .inquiry
            .causes
            .iter()
            .any(|cause| cause.tick == act.tick)
    );
    for beat in story.beats() {
        assert!(!beat.captions.is_empty() && !beat.camera.name().is_empty());
        beat.captions
            .iter()
            .for_each(|c| assert!(!said(c).is_empty()));
    }
    assert!(
        said(&story.sentence).contains("out of level"),
        "{}",
        said(&story.sentence)
    );
    let rerun = played.rerun(&scenario);
    let question = story.question(&rerun, 1);
    let right: Vec<String> = question
        .choices
        .iter()
        .filter(|choice| choice.right)
        .map(|choice| said(&choice.said))
        .collect();
    assert!((2..=4).contains(&question.choices.len()), "{question:?}");
    assert!(
        right.iter().any(|text| text.contains("both lifts")),
        "{question:?}"
    );
    let wrong = question.choices.iter().filter(|choice| !choice.right);
    assert!(wrong.count() >= 1, "{question:?}");
    for choice in &question.choices {
        assert!(!said(&choice.said).is_empty());
    }
    let orders: BTreeSet<Vec<String>> = (0..5)
        .map(|seed| {
            let choices = story.question(&rerun, seed).choices;
            choices.iter().map(|choice| said(&choice.said)).collect()
        })
        .collect();
    assert!(orders.len() > 1, "the order gives nothing away");
    let answer = story.answer();
    for message in [&answer.act]
        .into_iter()
        .chain(&answer.consequence)
        .chain(&answer.right)
    {
        assert!(!said(message).is_empty());
    }
    assert!(!still_moving(&played.line));
}

#[test]
fn a_critical_outcome_is_told_before_all_else() {
    let scenario = scenario("missing-pin");
    let (played, story) = story(&scenario, "feeder");
    assert_eq!(story.told().kind.severity(), Severity::Critical);
    let worse = played
        .verdict
        .findings
        .iter()
        .filter(|finding| finding.kind.severity() == Severity::Critical);
    assert!(worse.map(|finding| finding.kind).min() == Some(story.told().kind));
    let question = story.question(&played.rerun(&scenario), scenario.seed);
    assert!(
        question.choices.iter().any(|choice| choice.right),
        "{question:?}"
    );
    assert!(
        question.choices.iter().any(|choice| !choice.right),
        "{question:?}"
    );
}

#[test]
fn a_run_that_went_right_has_its_question_too() {
    let scenario = scenario("first-shift");
    let mut expert = member("expert").unwrap().operator();
    let played = play_with(&scenario, expert.as_mut());
    let inquiries = played.inquiries(&scenario);
    assert!(Story::of(&played.rerun(&scenario), &played.verdict, &inquiries).is_none());
    let reflection = Reflection::of(&played.verdict, 3).expect("something came nearest");
    let right: Vec<_> = reflection.choices.iter().filter(|c| c.right).collect();
    assert_eq!(right.len(), 1);
    assert_eq!(right[0].said, reflection.nearest.fact);
    assert!(reflection.nearest.share < 1.0 && reflection.choices.len() >= 2);
    for choice in &reflection.choices {
        assert!(!said(&choice.said).is_empty());
    }
    reflection
        .answer
        .iter()
        .for_each(|text| assert!(!said(text).is_empty()));
}

#[test]
fn a_debrief_shows_events_findings_and_plots_of_the_run() {
    let scenario = scenario("first-shift");
    let mut operator = member("one-end-first").unwrap().operator();
    let mut tracer = Tracer::default();
    let played = play(&scenario, scenario.seed, operator.as_mut(), |line, _| {
        tracer.see(line);
    });
    let Ok(played) = played else {
        panic!("no result")
    };
    let inquiries = played.inquiries(&scenario);
    let people = &played.spec.people;
    let debrief = Debrief::of(people, &played.log, &played.verdict, &inquiries);
    assert_eq!(debrief.findings.len(), played.verdict.findings.len());
    let tilt = &debrief.findings[0];
    assert_eq!(tilt.severity, Severity::Major);
    let jumps = tilt.lines.iter().filter_map(|line| line.tick);
    assert!(jumps.clone().any(|tick| tick == tilt.tick) && jumps.clone().any(|t| t < tilt.tick));
    for line in tilt.lines.iter().chain(&debrief.leading) {
        assert!(!said(&line.said).is_empty());
        assert!(line.tick.is_none_or(|tick| tick <= debrief.ticks));
    }
    assert!(debrief.marks.is_sorted_by_key(|mark| mark.tick));
    let kinds = |kind: MarkKind| debrief.marks.iter().any(|mark| mark.kind == kind);
    assert!(kinds(MarkKind::Act) && kinds(MarkKind::Event));
    assert!(kinds(MarkKind::Finding(Severity::Major)));
    debrief
        .marks
        .iter()
        .for_each(|mark| assert!(!said(&mark.said).is_empty()));
    let crowded = clusters(&debrief.marks, debrief.ticks / 40);
    assert!(crowded.len() <= 41 && crowded.len() > 5);

    // Run again from its controls it gives the same traces.
    let again = trace(&played.spec, &played.log);
    assert_eq!(&again, tracer.traces());
    let plots = plots(&again, &played.spec);
    let plot = |kind: PlotKind| plots.iter().find(|plot| plot.kind == kind).unwrap();
    let most = |kind: PlotKind| {
        let series = plot(kind).series.iter();
        let values = series.flat_map(|s| s.parts.iter().flatten().map(|point| point.1));
        values.fold(f64::NEG_INFINITY, f64::max)
    };
    let limit = plot(PlotKind::Tilt).limits[1].value;
    assert!(most(PlotKind::Tilt) > limit, "the tilt goes over its limit");
    assert!((most(PlotKind::Pitch) - 5.0).abs() < 0.2);
    assert!((0.3..2.0).contains(&most(PlotKind::GateSpeed)));
    assert!((0.2..1.5).contains(&most(PlotKind::Heights)));
    assert!(most(PlotKind::Nearest) > 1.0);
    for plot in &plots {
        assert!(!said(&plot.title).is_empty() && !plot.unit.is_empty());
        for series in &plot.series {
            assert!(series.points() <= 2000 && !said(&series.name).is_empty());
            let times = series.parts.iter().flatten().map(|point| point.0);
            assert!(times.is_sorted(), "{:?}", plot.kind);
        }
        plot.limits
            .iter()
            .for_each(|l| assert!(!said(&l.name).is_empty()));
    }
}

/// The curve of the energy at the gate has its peak where the judge has the hardest blow, as high as that is:
/// sampled every eight ticks it comes within a tenth.
#[test]
fn the_energy_at_the_gate_is_that_of_the_blow() {
    let scenario = scenario("first-release");
    let mut operator = member("expert").unwrap().operator();
    let mut tracer = Tracer::default();
    let played = play(&scenario, scenario.seed, operator.as_mut(), |line, _| {
        tracer.see(line);
    });
    let played = played.ok().unwrap();
    let blow = played.verdict.leading.gate.unwrap();
    let traces = tracer.traces();
    let energies = traces.ticks.iter().zip(&traces.gate_energy_pct);
    let known = energies.filter_map(|(tick, pct)| Some((*tick, (*pct)?)));
    let (tick, pct) = known.max_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
    assert!(tick.abs_diff(blow.tick) <= 8, "{tick} {blow:?}");
    let told = f64::from(pct) / (100.0 * blow.fraction);
    assert!((0.9..1.1).contains(&told), "{pct} {blow:?}");
}

#[test]
fn the_drills_take_every_control_in_turn() {
    let scenario = scenario("first-shift");
    let mut line = Line::build(&scenario.line_for(scenario.seed));
    let mut drills = Drills::new();
    let (mut controls, mut asked) = (Controls::default(), BTreeSet::new());
    while !drills.is_done() && line.time_s() < 240.0 {
        line.tick(&controls);
        drills.see(&line, &controls);
        let Some(advice) = drills.advice() else { break };
        assert!(!said(&advice.what).is_empty() && !said(&advice.why).is_empty());
        assert!(!advice.parts.is_empty());
        asked.insert(advice.progress.0);
        let lets_go = advice.what.id().starts_with("drill-let-go");
        let latched = Controls {
            emergency_stop: controls.emergency_stop,
            isolated: controls.isolated,
            ..Controls::default()
        };
        let hold = |buttons: &[Button]| Controls {
            held: if lets_go {
                Held::NONE
            } else {
                buttons.iter().copied().collect()
            },
            ..latched
        };
        controls = match advice.drill {
            Drill::LookAround => {
                drills.looked_around();
                latched
            }
            Drill::Horn => hold(&[Button::Horn]),
            Drill::CallOut => Controls {
                call: Some(chockline::sim::controls::Call::Clear),
                ..latched
            },
            Drill::Press(_, button) => hold(&[button]),
            Drill::BothAtOnce => hold(&[Button::LiftBothUp, Button::LiftBothDown]),
            Drill::EmergencyStop => Controls {
                emergency_stop: true,
                ..latched
            },
            Drill::ReleaseStop => Controls {
                emergency_stop: false,
                ..latched
            },
            Drill::Isolate => Controls {
                isolated: true,
                ..latched
            },
            Drill::PowerOn => Controls {
                isolated: false,
                ..latched
            },
            Drill::Feed if !line.receiver_is_up() => Controls::held([Button::ReceiverUp]),
            Drill::Feed => hold(&[Button::Feed]),
        };
    }
    assert!(
        drills.is_done(),
        "{:?} at {:.1} s",
        drills.now(),
        line.time_s()
    );
    assert_eq!(asked.len(), 25, "each was asked");
    let received = line
        .events()
        .iter()
        .any(|event| matches!(event.kind, EventKind::Received { .. }));
    assert!(received || line.sticks().any(|s| line.place(s) == StickPlace::Released));
}

#[test]
fn nothing_is_done_by_a_drill_that_nobody_does() {
    let scenario = scenario("first-shift");
    let mut line = Line::build(&scenario.line_for(scenario.seed));
    let mut drills = Drills::new();
    drills.looked_around();
    for _ in 0..1200 {
        line.tick(&Controls::default());
        drills.see(&line, &Controls::default());
    }
    assert_eq!(drills.now(), Some(Drill::Horn));
    drills.skip();
    assert_eq!(drills.now(), Some(Drill::CallOut));
}
