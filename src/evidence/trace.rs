//! The trace: what every stick and every drive did, as a table.

use crate::domain::math::deg;
use crate::sim::line::Line;

/// Ticks between two rows.
const EVERY_TICKS: u64 = 4;

/// A CSV table (RFC 4180), one row every 1/60 s: time, stage, drives, and for each stick the place
/// along the rack, height, speed, rolling rate and yaw.
pub struct Trace {
    writer: csv::Writer<Vec<u8>>,
}

impl Trace {
    pub fn new(sticks: usize) -> Self {
        let mut trace = Self {
            writer: csv::Writer::from_writer(Vec::new()),
        };
        let mut head: Vec<String> = [
            "time_s",
            "stage",
            "gate_near",
            "gate_far",
            "separator_near",
            "separator_far",
            "receiver_lowered_m",
        ]
        .map(str::to_owned)
        .into();
        for stick in 1..=sticks {
            for column in [
                "place",
                "along_m",
                "x_m",
                "y_m",
                "speed_m_per_s",
                "roll_rad_per_s",
                "yaw_deg",
            ] {
                head.push(format!("stick{stick}_{column}"));
            }
        }
        trace.row(&head);
        trace
    }

    fn row(&mut self, cells: &[String]) {
        // Writing to memory cannot fail, and every row has the head's length.
        let _ = self.writer.write_record(cells);
    }

    /// Takes the line's state if a row is due.
    pub fn observe(&mut self, line: &Line) {
        if !line.tick_count().is_multiple_of(EVERY_TICKS) {
            return;
        }
        let mut cells = vec![
            format!("{:.4}", line.time_s()),
            format!("{:?}", line.stage()),
        ];
        cells.extend(
            line.gate_fractions()
                .into_iter()
                .chain(line.separator_fractions())
                .chain([line.receiver_lowered_m()])
                .map(|value| format!("{value:.4}")),
        );
        for stick in line.sticks() {
            let at = line.plane_point(stick);
            cells.push(format!("{:?}", line.place(stick)));
            cells.extend(
                [
                    line.along_m(stick),
                    at.x_m,
                    at.y_m,
                    line.speed_m_per_s(stick),
                    f64::from(line.stick(stick).roll_rate()),
                    deg(line.yaw_rad(stick)),
                ]
                .map(|value| format!("{value:.5}")),
            );
        }
        self.row(&cells);
    }

    /// The finished table.
    pub fn into_bytes(self) -> Vec<u8> {
        self.writer.into_inner().unwrap_or_default()
    }
}
