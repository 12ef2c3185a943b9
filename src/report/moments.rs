//! The decisive moments of a run, each from where it is best seen, and their pictures.

use super::study::{Again, Study};
use crate::evidence::ended;
use crate::judge::time_s;
use crate::session::Lookback;
use crate::session::coach::Pointed;
use crate::session::story::{Beat, Camera, Reflection};
use crate::sim::line::Line;
use crate::texts::Message;

/// A moment worth a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Moment {
    pub tick: u64,
    pub heading: Message,
    pub captions: Vec<Message>,
    pub subject: Option<Pointed>,
    pub camera: Camera,
}

/// A picture that has been taken: its file, of which media type, and its size, pixels.
#[derive(Clone, Debug)]
pub struct Taken {
    pub bytes: Vec<u8>,
    pub media_type: &'static str,
    pub size: [u32; 2],
}

/// The moments with their pictures, or why there are none.
pub enum Pictures {
    Taken(Vec<(Moment, Taken)>),
    Without(Message),
}

impl Moment {
    fn of(heading: &'static str, beat: &Beat) -> Self {
        Self {
            tick: beat.tick,
            heading: heading.into(),
            captions: beat.captions.clone(),
            subject: beat.subject,
            camera: beat.camera,
        }
    }
}

impl Study {
    /// The decisive moments in their order: the story of what went wrong, or what came nearest to it and
    /// how it ended.
    pub fn moments(&self) -> Vec<Moment> {
        let Some(again) = &self.again else {
            return Vec::new();
        };
        match &again.story {
            Some(story) => {
                let mut moments = vec![Moment::of("paper-moment-act", &story.act)];
                if story.inquiry.last_chance.is_some() {
                    moments.push(Moment::of("paper-moment-point", &story.point));
                }
                moments.push(Moment::of("paper-moment-outcome", &story.outcome));
                moments
            }
            None => self.of_a_run_that_went_right(again),
        }
    }

    fn of_a_run_that_went_right(&self, again: &Again) -> Vec<Moment> {
        let nearest = Reflection::of(&self.verdict, self.seed());
        let nearest = nearest.map(|reflection| Moment {
            tick: reflection.nearest.tick,
            heading: "paper-moment-nearest".into(),
            captions: vec![
                Message::new("paper-sentence").with("said", reflection.nearest.fact.clone()),
            ],
            subject: reflection.nearest.subject,
            camera: reflection.nearest.camera,
        });
        let ticks = self.recording.log.ticks;
        let end = Moment {
            tick: ticks,
            heading: "paper-moment-end".into(),
            captions: vec![
                Message::new("paper-end")
                    .measured("time", time_s(ticks), 1)
                    .with("ending", ended(again.report.ending)),
            ],
            subject: None,
            camera: Camera::Orbit,
        };
        nearest.into_iter().chain([end]).collect()
    }

    /// Has every decisive moment drawn.
    ///
    /// # Errors
    /// What the artist says.
    pub fn drawn<E>(
        &self,
        mut artist: impl FnMut(&Line, &Moment) -> Result<Taken, E>,
    ) -> Result<Vec<(Moment, Taken)>, E> {
        let Some(again) = &self.again else {
            return Ok(Vec::new());
        };
        let mut lookback = Lookback::default();
        let moments = self.moments().into_iter();
        moments
            .map(|moment| {
                let line = again.finished.look_at(&mut lookback, moment.tick);
                artist(line, &moment).map(|taken| (moment, taken))
            })
            .collect()
    }
}
