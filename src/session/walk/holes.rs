//! The holes for the escapement's pins: one for every size of pipe that the line takes, with the size
//! stamped beside it. The next one is only a hand's width away.

use crate::domain::limits::SETTING_OFF_MAX;
use crate::domain::pipe::{IPS_SIZES_IN, METRIC_SIZES_MM, MetricStandard, SizeSystem};
use crate::texts::Message;

/// The sizes that there are holes for.
const INCHES: std::ops::RangeInclusive<u16> = 20..=63;
const MILLIMETRES: std::ops::RangeInclusive<u16> = 500..=1600;

/// All sizes with a hole, smallest first.
pub fn holes() -> Vec<SizeSystem> {
    let inches = IPS_SIZES_IN
        .into_iter()
        .filter(|size_in| INCHES.contains(size_in))
        .map(|size_in| SizeSystem::Ips { size_in });
    let metric = METRIC_SIZES_MM
        .into_iter()
        .filter(|dn_mm| MILLIMETRES.contains(dn_mm))
        .map(|dn_mm| SizeSystem::Metric {
            dn_mm,
            standard: MetricStandard::AsNzs4130,
        });
    let mut holes: Vec<_> = inches.chain(metric).collect();
    holes.sort_by(|one, other| one.mean_diameter_m().total_cmp(&other.mean_diameter_m()));
    holes
}

/// The hole that pins set for a diameter stand in.
pub fn hole_for(diameter_m: f64) -> Option<SizeSystem> {
    let off = |hole: &SizeSystem| (hole.mean_diameter_m() / diameter_m - 1.0).abs();
    let nearest = holes()
        .into_iter()
        .min_by(|one, other| off(one).total_cmp(&off(other)));
    nearest.filter(|hole| off(hole) <= SETTING_OFF_MAX.value)
}

/// What is stamped beside a hole, or printed on pipe: "36 in".
pub fn stamped(size: SizeSystem) -> Message {
    match size {
        SizeSystem::Ips { size_in } => Message::new("size-inches").with("size", u64::from(size_in)),
        SizeSystem::Metric { dn_mm, .. } => {
            Message::new("size-millimetres").with("size", u64::from(dn_mm))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_size_of_pipe_finds_its_own_hole() {
        for size_in in IPS_SIZES_IN
            .into_iter()
            .filter(|size| INCHES.contains(size))
        {
            let size = SizeSystem::Ips { size_in };
            assert_eq!(hole_for(size.mean_diameter_m()), Some(size));
        }
        for dn_mm in METRIC_SIZES_MM
            .into_iter()
            .filter(|dn| MILLIMETRES.contains(dn))
        {
            for standard in [MetricStandard::AsNzs4130, MetricStandard::Iso4427] {
                let pipe_m = SizeSystem::Metric { dn_mm, standard }.mean_diameter_m();
                let hole = hole_for(pipe_m).expect("a hole");
                let off = hole.mean_diameter_m() / pipe_m - 1.0;
                assert!(off.abs() <= SETTING_OFF_MAX.value, "DN {dn_mm}: {off}");
            }
        }
        assert_eq!(hole_for(0.3), None);
    }

    #[test]
    fn holes_go_up_in_size() {
        let holes = holes();
        assert!(holes.len() > 20);
        for pair in holes.windows(2) {
            assert!(pair[0].mean_diameter_m() < pair[1].mean_diameter_m());
        }
    }
}
