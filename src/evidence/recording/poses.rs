//! Poses for looking at: on a grid that the eye does not see, and in a file only what has moved since
//! the last ones.

use serde::{Deserialize, Serialize};

use crate::sim::line::Line;

/// Steps of the grid in a metre.
const STEPS_PER_M: f32 = 4096.0;
/// Steps in the unit of a rotation's numbers.
const STEPS_PER_UNIT: f32 = 16384.0;

/// Position (m) and rotation (x y z w) of a stick.
pub type Pose = [f32; 7];

/// Where all sticks are after a tick, in their order.
pub type Poses = (u64, Vec<Pose>);

/// The poses of a line as it stands.
pub fn of(line: &Line) -> Poses {
    let poses = line.sticks().map(|stick| {
        let pose = line.stick(stick).pose;
        let [x, y, z] = pose.translation.to_array();
        let [i, j, k, w] = pose.rotation.to_array();
        from_grid(to_grid([x, y, z, i, j, k, w]))
    });
    (line.tick_count(), poses.collect())
}

fn steps(i: usize) -> f32 {
    if i < 3 { STEPS_PER_M } else { STEPS_PER_UNIT }
}

fn to_grid(pose: Pose) -> [i32; 7] {
    core::array::from_fn(|i| (pose[i] * steps(i)).round() as i32)
}

fn from_grid(grid: [i32; 7]) -> Pose {
    core::array::from_fn(|i| grid[i] as f32 / steps(i))
}

/// Poses as they stand in a file: the sticks that have moved since the poses before, by how many steps.
/// The first poses name all sticks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Moved {
    pub tick: u64,
    pub sticks: Vec<(u16, [i32; 7])>,
}

impl Moved {
    pub fn between(before: Option<&Poses>, (tick, poses): &Poses) -> Self {
        let mut sticks = Vec::new();
        for (i, pose) in poses.iter().enumerate() {
            let known = before.and_then(|(_, before)| before.get(i));
            let from = known.map_or([0; 7], |pose| to_grid(*pose));
            let to = to_grid(*pose);
            let by: [i32; 7] = core::array::from_fn(|i| to[i].wrapping_sub(from[i]));
            if known.is_none() || by != [0; 7] {
                sticks.push((i as u16, by));
            }
        }
        Self {
            tick: *tick,
            sticks,
        }
    }

    /// The poses after those before; none where a stick is named that there is not.
    pub fn after(&self, before: Option<&Poses>) -> Option<Poses> {
        let mut poses = match before {
            Some((_, poses)) => poses.clone(),
            None => vec![[0.0; 7]; self.sticks.len()],
        };
        for (i, by) in &self.sticks {
            let pose = poses.get_mut(usize::from(*i))?;
            let from = to_grid(*pose);
            *pose = from_grid(core::array::from_fn(|i| from[i].wrapping_add(by[i])));
        }
        Some((self.tick, poses))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_what_was_taken() {
        let on_grid = |pose| from_grid(to_grid(pose));
        let first = [1.234_5, -0.5, 31.0, 0.1, -0.2, 0.3, 0.9];
        let one = (8, vec![on_grid(first), on_grid([0.0; 7])]);
        let mut moved = first;
        moved[2] -= 0.7;
        let two = (16, vec![on_grid(moved), one.1[1]]);
        assert!((one.1[0][0] - first[0]).abs() < 0.000_13);
        assert!((one.1[0][3] - first[3]).abs() < 0.000_04);
        let told = [Moved::between(None, &one), Moved::between(Some(&one), &two)];
        assert_eq!(told[1].sticks.len(), 1, "only what has moved");
        assert_eq!(told[0].after(None), Some(one.clone()));
        assert_eq!(told[1].after(Some(&one)), Some(two));
        let other = Moved {
            tick: 24,
            sticks: vec![(2, [1; 7])],
        };
        assert_eq!(other.after(Some(&one)), None);
    }
}
