//! What is put right on the line before pipe moves: a walk round it, the escapement and the rack set
//! for the pipe, the cones.

use super::Habits;
use crate::domain::crew::usual_zone;
use crate::domain::envelope::{Adequacy, adequacy_as_set_out};
use crate::domain::limits::{PITCH_MAX, PITCH_MIN};
use crate::domain::math::rad;
use crate::domain::rig::{End, Rig};
use crate::domain::set_out::{SetOut, Setting, usual_machine, usual_spacing_m};
use crate::domain::spec::{Coupler, Item, LineSpec, Motion};

/// To what both rails are set where they are not as they should be, and how unlike they may be, rad.
const PITCH_RAD: f64 = rad(5.0);
const UNLIKE_RAD: f64 = rad(0.5);
/// How far off the machine may stand, m.
const MACHINE_OFF_M: f64 = 0.10;

/// What somebody of these habits sets. `open` says whether the rack is still empty.
pub fn set_out(habits: &Habits, as_found: &LineSpec, open: bool) -> SetOut {
    let mut plan = SetOut::default();
    // Each part is done on the line as the ones before have left it.
    let so_far = |plan: &SetOut| {
        let line = plan.applied(as_found, open);
        line.unwrap_or_else(|_| as_found.clone())
    };
    let possible = |setting: &Setting| open || !setting.needs_empty_rack();
    if habits.walks_round {
        plan.settings
            .extend(walk_round(as_found).into_iter().filter(possible));
    }
    // Who feeds whether or not the receiver is ready is glad of an interlock that does not work.
    let wants_interlock = habits.raises_receiver && habits.waits_its_turn;
    if wants_interlock && !as_found.escapement.interlock {
        plan.settings.push(Setting::Interlock);
    }
    if habits.sets_pitch {
        let pitches = pitches(&so_far(&plan));
        plan.settings.extend(pitches.into_iter().filter(possible));
    }
    if habits.sets_size {
        plan.settings
            .extend(size(as_found).into_iter().filter(possible));
    }
    if habits.sets_zone {
        plan.settings.extend(zone_to_set(&so_far(&plan)));
    }
    plan
}

/// What is wrong and can be seen, or shows on a gauge or in a radio check.
pub fn walk_round(line: &LineSpec) -> Vec<Setting> {
    let faults = &line.faults;
    let mut found = Vec::new();
    for end in End::BOTH {
        let rail = faults.rail(end);
        let rack = match end {
            End::Near => line.rack.near_rail,
            End::Far => line.rack.far_rail,
        };
        let column = line.cradles.column(end);
        let of_this_end = [
            (!rail.pins_are_sound(), Setting::Pins(end)),
            (rail.chock_missing, Setting::Chock(end)),
            (
                faults.is_faulty(Item::Rail(end)),
                Setting::Item(Item::Rail(end)),
            ),
            (!rack.foot.padded, Setting::RailPad(end)),
            (!column.is_padded(), Setting::ColumnPads(end)),
            (column.is_off(), Setting::Column(end)),
        ];
        found.extend(of_this_end);
    }
    for item in [Item::Rollers, Item::Radio] {
        found.push((faults.is_faulty(item), Setting::Item(item)));
    }
    for motion in Motion::ALL {
        // The rest shows in the function check.
        let seen = faults.motion(motion);
        let shows = seen.coupler != Coupler::Latched || seen.creep_m_per_s > 0.0;
        found.push((shows, Setting::Item(Item::Motion(motion))));
    }
    let machine = usual_machine(line);
    let machine_off_m = line.machine.near_cradle_to_jaws_m - machine.near_cradle_to_jaws_m;
    let spacing_off_m = line.cradles.spacing_m - usual_spacing_m(line);
    found.push((spacing_off_m.abs() > MACHINE_OFF_M, Setting::Cradles));
    found.push((machine_off_m.abs() > MACHINE_OFF_M, Setting::Machine));
    let wrong = found.into_iter().filter(|(wrong, _)| *wrong);
    wrong.map(|(_, setting)| setting).collect()
}

/// Both rails by their inclinometers, where those show that it is needed.
fn pitches(line: &LineSpec) -> Vec<Setting> {
    let error_rad = |rail: End| line.faults.rail(rail).inclinometer_error_rad;
    let shown = [
        line.rack.near_rail.pitch_rad + error_rad(End::Near),
        line.rack.far_rail.pitch_rad + error_rad(End::Far),
    ];
    let usual = PITCH_MIN.value..=PITCH_MAX.value;
    let alike = (shown[0] - shown[1]).abs() <= UNLIKE_RAD;
    if alike && shown.iter().all(|pitch_rad| usual.contains(pitch_rad)) {
        return Vec::new();
    }
    End::BOTH
        .map(|rail| Setting::Pitch {
            rail,
            pitch_rad: (PITCH_RAD - error_rad(rail)).max(0.0),
        })
        .into()
}

/// The escapement for the pipe of the row.
fn size(line: &LineSpec) -> Option<Setting> {
    let diameter_m = line.not_set_for()?.pipe.outside_diameter_m;
    Some(Setting::Size { diameter_m })
}

/// The usual zone, where the one there is does not reach.
pub fn zone_to_set(line: &LineSpec) -> Option<Setting> {
    let rig = Rig::new(line);
    let enough = adequacy_as_set_out(&rig)? == Adequacy::Covers;
    (!enough && !line.people.is_empty()).then(|| Setting::Zone(usual_zone(&rig)))
}
