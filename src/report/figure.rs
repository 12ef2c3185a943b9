//! What charts are drawn with: a picture that says what it shows, axes, numbers.
//!
//! The laboratory's charts go into files of their own and are drawn by a library. These stand in a page:
//! its style sheet gives them their colours and, on a phone, letters that do not shrink with the picture.

use crate::html::{Markup, html};

/// Width of every chart, and the room for the numbers at its left, in the picture's own units.
pub const WIDTH: f64 = 680.0;
pub const LEFT: f64 = 60.0;
/// Room at the right.
pub const RIGHT: f64 = 24.0;
/// Room below for the numbers of an axis.
pub const BELOW: f64 = 38.0;

/// A picture, with what it shows in words for whoever does not see it.
pub fn picture(height: f64, shows: &str, drawn: &Markup) -> Markup {
    html! {
        svg viewBox=(format!("0 0 {WIDTH} {height:.0}")) role="img" aria-label=(shows) {
            (drawn)
        }
    }
}

/// From values to places on the paper, linear.
#[derive(Clone, Copy, Debug)]
pub struct Scale {
    from: (f64, f64),
    to: (f64, f64),
}

impl Scale {
    /// Values from `from.0` to `from.1` to places from `to.0` to `to.1`.
    pub fn new(from: (f64, f64), to: (f64, f64)) -> Self {
        let from = if from.1 > from.0 {
            from
        } else {
            (from.0 - 0.5, from.0 + 0.5)
        };
        Self { from, to }
    }

    pub fn at(&self, value: f64) -> f64 {
        let part = (value - self.from.0) / (self.from.1 - self.from.0);
        self.to.0 + part * (self.to.1 - self.to.0)
    }

    /// The time axis that all charts share.
    pub fn of_time(duration_s: f64) -> Self {
        Self::new((0.0, duration_s.max(1.0)), (LEFT, WIDTH - RIGHT))
    }

    /// Round values along it, about so many, with the digits that they need.
    pub fn ticks(&self, about: f64) -> (Vec<f64>, usize) {
        let (low, high) = self.from;
        let rough = (high - low) / about;
        let (mut step, mut digits) = (1.0_f64, 0_usize);
        while step > rough && digits < 6 {
            step /= 10.0;
            digits += 1;
        }
        while step * 10.0 <= rough {
            step *= 10.0;
        }
        let grown = [1.0, 2.0, 5.0, 10.0]
            .into_iter()
            .find(|by| step * by >= rough);
        let by = grown.unwrap_or(10.0);
        if by == 10.0 {
            digits = digits.saturating_sub(1);
        }
        let step = step * by;
        let first = (low / step).ceil() as i64;
        let last = (high / step + 1e-9).floor() as i64;
        ((first..=last).map(|i| i as f64 * step).collect(), digits)
    }
}

/// A number as it stands on the paper.
pub fn number(value: f64) -> String {
    format!("{value:.1}")
}

/// A line through places.
pub fn path(places: impl IntoIterator<Item = (f64, f64)>) -> String {
    let mut path = String::new();
    for (i, (x, y)) in places.into_iter().enumerate() {
        path.push(if i == 0 { 'M' } else { 'L' });
        path.push_str(&number(x));
        path.push(' ');
        path.push_str(&number(y));
    }
    path
}

/// The time axis at a height: lines up to the top, and times below.
pub fn time_axis(scale: &Scale, top: f64, bottom: f64) -> Markup {
    let (ticks, digits) = scale.ticks(6.0);
    html! {
        @for tick in ticks {
            @let x = number(scale.at(tick));
            path.grid d=(path([(scale.at(tick), top), (scale.at(tick), bottom)])) {}
            // From its top, so that larger letters do not climb into the chart.
            text x=(x) y=(number(bottom + 8.0)) text-anchor="middle" dominant-baseline="hanging" {
                (format!("{tick:.digits$}\u{202f}s"))
            }
        }
    }
}

/// A severity's own shape around a place: octagon, triangle, square.
pub fn outline(corners: usize, x: f64, y: f64, radius: f64) -> String {
    // An octagon stands on a side, a triangle on its base, a square on a side.
    let turn = match corners {
        3 => -90.0,
        corners => 180.0 / corners as f64,
    };
    let places = (0..corners).map(|i| {
        let angle = (turn + 360.0 * i as f64 / corners as f64).to_radians();
        (x + radius * angle.cos(), y + radius * angle.sin())
    });
    path(places) + "Z"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_few() {
        let of = |from, to| Scale::new((from, to), (0.0, 100.0)).ticks(5.0);
        assert_eq!(of(0.0, 10.0), (vec![0.0, 2.0, 4.0, 6.0, 8.0, 10.0], 0));
        assert_eq!(of(0.0, 1.0).1, 1);
        assert_eq!(of(-0.04, 0.04).1, 2);
        assert_eq!(of(0.0, 3000.0).0.len(), 4);
        for (from, to) in [(0.0, 7.3), (-1.5, 1.5), (0.0, 118.0), (3.0, 3.0)] {
            let (ticks, _) = of(from, to);
            assert!((2..=8).contains(&ticks.len()), "{from} {to}: {ticks:?}");
        }
    }

    #[test]
    fn a_scale_of_one_value_has_some_width() {
        assert_eq!(Scale::new((2.0, 2.0), (0.0, 10.0)).at(2.0), 5.0);
    }
}
