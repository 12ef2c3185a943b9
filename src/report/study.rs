//! A recorded run, run again and looked into as far as a report needs.

use crate::domain::math::deg;
use crate::domain::spec::{Duty, LineSpec, Place};
use crate::evidence::{Recording, Replay, Report};
use crate::judge::{Inquiry, Log, Verdict};
use crate::scenario::Scenario;
use crate::session::debrief::{Debrief, Tracer, Traces};
use crate::session::story::Story;
use crate::session::{Finished, Inquest};
use crate::sim::line::{Line, State, StickPlace};
use crate::sim::world::StickId;
use crate::texts::Message;

/// Ticks between two places of a way.
const WAY_EVERY_TICKS: u64 = 24;
/// Somebody or something that has moved by less than this has not moved, m.
const MOVED_M: f64 = 0.02;

/// See the module's text.
pub struct Study {
    pub recording: Recording,
    pub scenario: Scenario,
    /// The line as it was run.
    pub spec: LineSpec,
    /// What the run is worth, by the recording alone.
    pub verdict: Verdict,
    /// Whether this program comes to the same when it runs it again.
    pub replay: Replay,
    /// What the plots show; only what was recorded where it does not come to the same.
    pub traces: Traces,
    /// What can be told only by running it again; none where that does not come to the same.
    pub again: Option<Again>,
}

/// See [`Study::again`].
pub struct Again {
    pub finished: Finished,
    pub report: Report,
    pub story: Option<Story>,
    pub ways: Ways,
}

/// Where sticks and people were, in the plan of a right-handed line.
#[derive(Clone, Debug, Default)]
pub struct Ways {
    pub sticks: Vec<StickWay>,
    pub people: Vec<PersonWay>,
}

/// The way of a stick, as long as it is not part of the string.
#[derive(Clone, Debug)]
pub struct StickWay {
    pub stick: StickId,
    /// Of its middle.
    pub way: Vec<Place>,
    /// The ends of its axis, at first and at last.
    pub first: [Place; 2],
    pub last: [Place; 2],
    pub radius_m: f64,
}

#[derive(Clone, Debug)]
pub struct PersonWay {
    pub duty: Duty,
    pub way: Vec<Place>,
    /// They were struck.
    pub is_down: bool,
}

impl Study {
    /// Of a recording, `id` being the name of its scenario as far as it is known; `watch` sees every
    /// tick of the run, made again.
    ///
    /// # Errors
    /// Where its scenario, its set-out or its log is not sound.
    pub fn of(
        id: &str,
        recording: Recording,
        mut watch: impl FnMut(&Line),
    ) -> Result<Self, Message> {
        let told = |error: crate::evidence::RecordingError| error.message();
        let (_, spec) = recording.as_run().map_err(told)?;
        let (scenario, verdict) = recording.judged().map_err(told)?;
        let (mut tracer, mut ways) = (Tracer::default(), Ways::default());
        let last = recording.log.ticks;
        let replay = recording
            .replay(|line| {
                tracer.see(line);
                ways.see(line, last);
                watch(line);
            })
            .map_err(told)?;
        let mut study = Self {
            traces: recorded(&recording.log),
            recording,
            scenario,
            spec,
            verdict,
            replay,
            again: None,
        };
        if study.replay.differs.is_none() {
            study.traces = tracer.traces().clone();
            study.again = Some(Again::of(id, &study.recording, ways)?);
        }
        Ok(study)
    }

    /// Who drove, as the recording says.
    pub fn driver(&self) -> &str {
        &self.recording.head.operator
    }

    pub fn seed(&self) -> u64 {
        self.recording.head.seed
    }

    /// The program that recorded it, and its version.
    pub fn recorded_by(&self) -> [&str; 2] {
        let maker = &self.recording.head.maker;
        [&maker.program, &maker.version]
    }

    /// What was found out about the causes of findings, by the place of the finding.
    pub fn inquiries(&self) -> &[(usize, Inquiry)] {
        let report = self.again.as_ref().map(|again| &again.report);
        report.map_or(&[], |report| &report.inquiries)
    }

    /// Timeline and findings.
    pub fn debrief(&self) -> Debrief {
        Debrief::of(
            &self.spec.people,
            &self.recording.log,
            &self.verdict,
            self.inquiries(),
        )
    }
}

impl Again {
    fn of(id: &str, recording: &Recording, ways: Ways) -> Result<Self, Message> {
        let finished = Finished::of_recording(id, recording)?;
        let inquiries = finished.inquire(&Inquest::default()).unwrap_or_default();
        let story = Story::of(&finished.rerun(), &finished.played.verdict, &inquiries);
        Ok(Self {
            report: finished.report(inquiries),
            story,
            finished,
            ways,
        })
    }
}

/// What of the traces was recorded.
fn recorded(log: &Log) -> Traces {
    let samples = &log.samples;
    let pitch = |end: usize| {
        let each = samples.iter().map(|sample| sample.pitch_rad.get(end));
        each.map(|rad| rad.map(|rad| deg(f64::from(*rad)) as f32))
            .collect()
    };
    let tilt = samples.iter().map(|sample| sample.tilt);
    Traces {
        ticks: samples.iter().map(|sample| sample.tick).collect(),
        pitch_deg: [pitch(0), pitch(1)],
        tilt_deg: tilt
            .map(|tilt| tilt.map(|(_, rad)| deg(f64::from(rad)) as f32))
            .collect(),
        raised_m: [vec![None; samples.len()], vec![None; samples.len()]],
        gate_energy_pct: vec![None; samples.len()],
        gate_m_per_s: vec![None; samples.len()],
        nearest_m: vec![None; samples.len()],
        nearest_moving_m: vec![None; samples.len()],
    }
}

impl Ways {
    /// Takes a tick that has just been made; `last` is the run's last.
    fn see(&mut self, line: &Line, last: u64) {
        let tick = line.tick_count();
        if !tick.is_multiple_of(WAY_EVERY_TICKS) && tick != last && tick != 1 {
            return;
        }
        for stick in line.present() {
            if line.place(stick) != StickPlace::Joined {
                self.see_stick(line, stick);
            }
        }
        for (i, person) in line.people().iter().enumerate() {
            let place = person.place();
            let is_down = person.state() == State::Down;
            match self.people.get_mut(i) {
                Some(known) => {
                    go_on(&mut known.way, place);
                    known.is_down |= is_down;
                }
                None => self.people.push(PersonWay {
                    duty: person.spec().duty,
                    way: vec![place],
                    is_down,
                }),
            }
        }
    }

    fn see_stick(&mut self, line: &Line, stick: StickId) {
        let (state, pipe) = (line.stick(stick), line.world().pipe(stick));
        let mirror = line.rig().mirror();
        let place = |x: f32, z: f32| Place {
            x_m: mirror * f64::from(x),
            z_m: f64::from(z),
        };
        let middle = state.pose.translation;
        let half = state.axis() * (0.5 * pipe.length_m as f32);
        let (from, to) = (middle - half, middle + half);
        let ends = [place(from.x, from.z), place(to.x, to.z)];
        let middle = place(middle.x, middle.z);
        match self.sticks.iter_mut().find(|known| known.stick == stick) {
            Some(known) => {
                go_on(&mut known.way, middle);
                known.last = ends;
            }
            None => self.sticks.push(StickWay {
                stick,
                way: vec![middle],
                first: ends,
                last: ends,
                radius_m: pipe.radius_m(),
            }),
        }
    }
}

impl StickWay {
    /// Whether it is somewhere else at last than at first.
    pub fn has_moved(&self) -> bool {
        self.way.len() > 1
    }
}

/// Adds a place to a way where it is a new one.
fn go_on(way: &mut Vec<Place>, place: Place) {
    let moved = way.last().is_none_or(|last| {
        (last.x_m - place.x_m).abs() > MOVED_M || (last.z_m - place.z_m).abs() > MOVED_M
    });
    if moved {
        way.push(place);
    }
}
