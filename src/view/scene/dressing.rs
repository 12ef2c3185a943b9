//! What stands about on the site: it gives scale and changes nothing. All of it is a few meshes.

use std::f32::consts::FRAC_PI_2;

use bevy::light::NotShadowCaster;
use bevy::prelude::*;

use super::ground::Lie;
use super::site::{GATE_HALF_M, Kind, Patch, Piece, Site, spare_row};
use super::solid::Solid;
use super::texture::{self, rough, speck};
use super::weather::Weather;
use super::{Built, SceneSystems, Stands, due};
use crate::domain::rig::Rig;
use crate::domain::spec::Place;
use crate::view::quality::Quality;
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

/// A panel of the fence, m.
const PANEL_M: f32 = 3.5;
const PANEL_HIGH_M: f32 = 2.0;
/// A tile of its wire, m.
const WIRE_M: f32 = 0.12;
/// A shipping container, m.
const CONTAINER_M: Vec3 = Vec3::new(2.44, 2.59, 6.06);
/// The light tower's mast, m.
const MAST_M: f32 = 6.5;
/// Half the width in which the string leaves the site, m.
const STRING_HALF_M: f64 = 3.0;

pub fn plugin(app: &mut App) {
    app.add_systems(
        Update,
        build
            .run_if(due(Built::Dressing))
            .in_set(SceneSystems::Build),
    );
}

#[expect(clippy::too_many_arguments, reason = "all that it is made of")]
fn build(
    mut commands: Commands,
    yard: Res<Yard>,
    stands: Res<Stands>,
    quality: Res<Quality>,
    mut wire: Local<Option<Handle<Image>>>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
    mut images: ResMut<Assets<Image>>,
) {
    let Some(site) = stands.site() else { return };
    let weather = Weather::over(&yard);
    let dressed = dress(yard.rig(), site, *quality, weather);
    let mut paint = |roughness: f32, metallic: f32| {
        materials.add(StandardMaterial {
            perceptual_roughness: if weather.wet {
                roughness * 0.75
            } else {
                roughness
            },
            metallic,
            reflectance: 0.35,
            ..default()
        })
    };
    let [matt, smooth] = [paint(0.92, 0.0), paint(0.5, 0.0)];
    for (solid, material) in [(dressed.matt, matt), (dressed.smooth, smooth)] {
        if solid.is_empty() {
            continue;
        }
        commands.spawn((
            Built::Dressing,
            Mesh3d(meshes.add(solid.mesh())),
            MeshMaterial3d(material),
        ));
    }
    if !dressed.wire.is_empty() {
        let wire = wire
            .get_or_insert_with(|| images.add(texture::mask(64, texture::wire)))
            .clone();
        commands.spawn((
            Built::Dressing,
            Mesh3d(meshes.add(dressed.wire.mesh())),
            MeshMaterial3d(materials.add(StandardMaterial {
                base_color: colours::STEEL,
                base_color_texture: Some(wire),
                perceptual_roughness: 0.6,
                alpha_mode: AlphaMode::Blend,
                double_sided: true,
                cull_mode: None,
                ..default()
            })),
            NotShadowCaster,
        ));
    }
}

/// Everything on the site, by what it is made of.
#[derive(Default)]
struct Dressed {
    /// Earth, timber, painted steel, cloth.
    matt: Solid,
    /// Pipe, plastic, rubber.
    smooth: Solid,
    wire: Solid,
}

/// Things are built with their own x and z along those of the site.
struct Builder<'a> {
    lie: Lie<'a>,
    rig: &'a Rig,
    sides: u32,
    weather: Weather,
    to: Dressed,
}

fn dress(rig: &Rig, site: &Site, quality: Quality, weather: Weather) -> Dressed {
    let mut builder = Builder {
        lie: Lie::of(rig),
        rig,
        sides: if quality == Quality::Low { 6 } else { 16 },
        weather,
        to: Dressed::default(),
    };
    for (n, piece) in site.pieces.iter().enumerate() {
        builder.piece(piece, n as i32);
    }
    if let Some(fence) = &site.fence {
        builder.fence(fence);
    }
    builder.to
}

impl Builder<'_> {
    /// Stands upright on the ground at a place, turned about y.
    fn stand(&self, at: Place, turn_rad: f32) -> Transform {
        Transform::from_translation(self.lie.at(at)).with_rotation(Quat::from_rotation_y(turn_rad))
    }

    fn piece(&mut self, piece: &Piece, n: i32) {
        let place = self.stand(piece.at, 0.0);
        self.to.matt.at(place);
        self.to.smooth.at(place);
        match piece.kind {
            Kind::Heap { height_m } => self.heap(piece, height_m as f32, n),
            Kind::SparePipe => self.spare_pipe(),
            Kind::Container => self.container(),
            Kind::Dunnage => self.dunnage(n),
            Kind::Pallet => self.pallet(n),
            Kind::Generator => self.generator(),
            Kind::Drums => self.drums(),
            Kind::LightTower => self.light_tower(),
            Kind::CableDrum => self.cable_drum(),
            Kind::ToolRack => self.tool_rack(),
            Kind::Covers => self.covers(piece),
        }
        self.to.matt.at(Transform::IDENTITY);
        self.to.smooth.at(Transform::IDENTITY);
    }

    /// What has been dug out, tipped by the load.
    fn heap(&mut self, piece: &Piece, height_m: f32, n: i32) {
        let (half_x, half_z) = (piece.half_x_m as f32, piece.half_z_m as f32);
        let cells = if self.sides > 8 { 28 } else { 14 };
        let seed = 800 + n as u32;
        let surface = |u: f32, v: f32| {
            let (x, z) = (u * half_x, v * half_z);
            let off = (u * u + v * v).sqrt();
            let tips = rough(u * 1.7 + 20.0, v * 1.7 + 20.0, 0, 3, seed);
            let lumps = rough(u * 6.0 + 20.0, v * 6.0 + 20.0, 0, 3, seed + 1);
            let cone = (1.0 - off * (0.85 + 0.35 * tips)).max(0.0).powf(0.9);
            let y =
                height_m * cone * (0.72 + 0.55 * tips) + 0.35 * (lumps - 0.4) * cone.min(0.3) * 3.0;
            (Vec3::new(x, y - 0.03, z), lumps)
        };
        let weather = self.weather;
        let rgb = |colour: Color| colour.to_linear().to_vec3();
        let tone = move |lumps: f32, y: f32, up: f32| {
            let mut tone = rgb(colours::MUD).lerp(rgb(colours::DIRT), 0.2 + 0.9 * lumps);
            if weather.wet {
                tone *= 0.6;
            }
            if weather.frosty {
                tone = tone.lerp(rgb(colours::RIME), 0.55 * up * (0.4 + 0.6 * lumps));
            }
            Color::LinearRgba(LinearRgba::from_vec3(tone * (0.85 + 0.06 * y)))
        };
        let step = 2.0 / cells as f32;
        let solid = &mut self.to.matt;
        let mut rows: Vec<Vec<u32>> = Vec::new();
        for k in 0..=cells {
            let mut row = Vec::new();
            for i in 0..=cells {
                let (u, v) = (-1.0 + step * i as f32, -1.0 + step * k as f32);
                let (at, lumps) = surface(u, v);
                let along = surface(u + 0.02, v).0 - at;
                let across = surface(u, v + 0.02).0 - at;
                let normal = across.cross(along).normalize_or(Vec3::Y);
                solid.paint(tone(lumps, at.y, normal.y.max(0.0)));
                row.push(solid.corner(at, normal, [0.0; 2]));
            }
            rows.push(row);
        }
        for k in 1..=cells {
            for i in 1..=cells {
                let [a, b, c, d] = [
                    rows[k - 1][i - 1],
                    rows[k][i - 1],
                    rows[k][i],
                    rows[k - 1][i],
                ];
                solid.triangle([a, b, c]);
                solid.triangle([a, c, d]);
            }
        }
    }

    /// Lengths of the line's pipe on timbers, wedged, in two layers.
    fn spare_pipe(&mut self) {
        let Some(pipe) = self.rig.spec().pipe_of(0) else {
            return;
        };
        let (radius, length) = (0.5 * pipe.outside_diameter_m as f32, pipe.length_m as f32);
        let bore = pipe.inner_radius_m() as f32;
        let count = spare_row(pipe.outside_diameter_m);
        let half_m = count as f32 * radius;
        let timber_m = 0.12;
        for z in [-0.36, -0.12, 0.12, 0.36] {
            self.to.matt.paint(colours::TIMBER);
            self.to.matt.slab(
                Vec3::new(0.0, 0.5 * timber_m, z * length),
                Vec3::new(half_m + 0.35, 0.5 * timber_m, 0.09),
            );
            for end in [-1.0, 1.0] {
                self.to.matt.paint(colours::TIMBER_OLD);
                let wedge = Vec3::new(end * (half_m - 0.35 * radius), timber_m + 0.11, z * length);
                self.to
                    .matt
                    .tapered(wedge, Vec3::new(0.16, 0.12, 0.08), Vec2::new(0.3, 1.0));
            }
        }
        let sides = 2 * self.sides;
        for layer in 0..2 {
            for i in 0..count - layer {
                let x = (2 * i) as f32 * radius - half_m + radius + layer as f32 * radius;
                let y = timber_m + radius + layer as f32 * radius * 3.0_f32.sqrt();
                let askew = 0.12 * (speck(i as i32, layer as i32, 907) - 0.5);
                let ends = [-0.5, 0.5].map(|end| Vec3::new(x, y, end * length + askew));
                let pipe = &mut self.to.smooth;
                pipe.paint(colours::PIPE);
                pipe.sleeve((ends[0], radius), (ends[1], radius), sides);
                // The bore, seen from its ends.
                pipe.sleeve((ends[1], bore), (ends[0], bore), sides);
                pipe.ring(ends[0], Vec3::NEG_Z, (bore, radius), sides);
                pipe.ring(ends[1], Vec3::Z, (bore, radius), sides);
                pipe.paint(colours::PIPE_STRIPE);
                for stripe in 0..4 {
                    let angle = 0.5 + FRAC_PI_2 * stripe as f32 + i as f32;
                    let (sin, cos) = angle.sin_cos();
                    let out = Vec3::new(cos, sin, 0.0);
                    let side = Vec3::new(-sin, cos, 0.0) * 0.012;
                    let [from, to] = ends.map(|end| end + out * (radius + 0.002));
                    pipe.face(&[from - side, to - side, to + side, from + side]);
                    pipe.face(&[from + side, to + side, to - side, from - side]);
                }
            }
        }
    }

    fn container(&mut self) {
        let half = 0.5 * CONTAINER_M;
        let solid = &mut self.to.matt;
        let foot = 0.14;
        let middle = Vec3::Y * (half.y + foot);
        solid.paint(colours::CONTAINER);
        solid.slab(middle, half - Vec3::new(0.04, 0.0, 0.04));
        // Ribs of the walls.
        let ribs = 22;
        for i in 0..ribs {
            let z = -half.z + 0.2 + (2.0 * half.z - 0.4) * (i as f32 + 0.5) / ribs as f32;
            for side in [-1.0, 1.0] {
                solid.slab(
                    Vec3::new(side * (half.x - 0.02), middle.y, z),
                    Vec3::new(0.02, half.y - 0.16, 0.06),
                );
            }
        }
        // Frame, and a band in the second colour.
        for (x, z) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
            let at = Vec3::new(x * (half.x - 0.06), middle.y, z * (half.z - 0.06));
            solid.slab(at, Vec3::new(0.07, half.y, 0.07));
        }
        solid.paint(colours::SAND);
        for side in [-1.0, 1.0] {
            solid.slab(
                Vec3::new(side * (half.x - 0.005), middle.y + 0.55, 0.0),
                Vec3::new(0.02, 0.16, half.z - 0.15),
            );
        }
        // Doors with their bars, towards the line.
        solid.paint(colours::STEEL);
        for x in [-0.85, -0.35, 0.35, 0.85] {
            let low = Vec3::new(x, foot + 0.15, -half.z - 0.03);
            let high = Vec3::new(x, foot + 2.0 * half.y - 0.15, -half.z - 0.03);
            solid.bar((low, 0.022), (high, 0.022), 6);
            solid.slab(
                Vec3::new(x + 0.1, foot + 1.1, -half.z - 0.05),
                Vec3::new(0.12, 0.015, 0.02),
            );
        }
        solid.paint(colours::TIMBER_OLD);
        for z in [-2.4, 2.4] {
            solid.slab(Vec3::new(0.0, 0.07, z), Vec3::new(half.x, 0.07, 0.12));
        }
    }

    /// Timbers, laid crosswise.
    fn dunnage(&mut self, n: i32) {
        for layer in 0..5_i32 {
            for i in 0..6_i32 {
                let own = speck(i + 10 * layer, n, 911);
                if layer == 4 && own < 0.45 {
                    continue;
                }
                let shade = if own < 0.5 {
                    colours::TIMBER
                } else {
                    colours::TIMBER_OLD
                };
                let off = -0.65 + 0.26 * i as f32 + 0.03 * own;
                let y = 0.06 + 0.11 * layer as f32;
                self.to.matt.paint(shade);
                let (at, half) = if layer % 2 == 0 {
                    (
                        Vec3::new(0.02 * own, y, 1.6 * off),
                        Vec3::new(0.75, 0.05, 0.06),
                    )
                } else {
                    (Vec3::new(off, y, 0.05 * own), Vec3::new(0.06, 0.05, 1.25))
                };
                self.to.matt.slab(at, half);
            }
        }
    }

    /// A pallet with sacks.
    fn pallet(&mut self, n: i32) {
        let solid = &mut self.to.matt;
        solid.paint(colours::TIMBER);
        for i in 0..6 {
            let x = -0.5 + 0.2 * i as f32;
            solid.slab(Vec3::new(x, 0.135, 0.0), Vec3::new(0.07, 0.012, 0.6));
        }
        for z in [-0.5, 0.0, 0.5] {
            solid.slab(Vec3::new(0.0, 0.06, z), Vec3::new(0.58, 0.06, 0.05));
        }
        solid.paint(colours::SACK);
        for layer in 0..3 {
            for (i, z) in [-0.38, 0.0, 0.38].into_iter().enumerate() {
                if speck(i as i32 + 3 * layer, n, 921) < 0.15 * layer as f32 {
                    continue;
                }
                let y = 0.21 + 0.13 * layer as f32;
                solid.ball(
                    Vec3::new(-0.26, y, z),
                    Vec3::new(0.30, 0.085, 0.20),
                    8,
                    -1.0,
                );
                solid.ball(Vec3::new(0.27, y, z), Vec3::new(0.30, 0.085, 0.20), 8, -1.0);
            }
        }
    }

    fn generator(&mut self) {
        let solid = &mut self.to.matt;
        solid.paint(colours::SAND);
        solid.tapered(
            Vec3::Y * 0.78,
            Vec3::new(0.55, 0.52, 0.95),
            Vec2::new(0.92, 0.95),
        );
        solid.paint(colours::SLATE);
        solid.slab(Vec3::Y * 0.18, Vec3::new(0.62, 0.09, 1.05));
        for i in 0..6 {
            let y = 0.55 + 0.09 * i as f32;
            for side in [-1.0, 1.0] {
                solid.slab(
                    Vec3::new(side * 0.545, y, 0.45),
                    Vec3::new(0.015, 0.02, 0.32),
                );
            }
        }
        solid.paint(colours::RUST);
        solid.bar(
            (Vec3::new(0.2, 1.25, -0.6), 0.045),
            (Vec3::new(0.2, 1.62, -0.6), 0.045),
            8,
        );
        solid.paint(colours::RUBBER);
        for z in [-0.55, 0.55] {
            for side in [-1.0, 1.0] {
                let hub = Vec3::new(side * 0.62, 0.24, z);
                solid.bar(
                    (hub - Vec3::X * 0.08, 0.24),
                    (hub + Vec3::X * 0.08, 0.24),
                    12,
                );
            }
        }
    }

    fn drums(&mut self) {
        let sides = self.sides;
        self.to.matt.paint(colours::SLATE);
        self.to
            .matt
            .slab(Vec3::Y * 0.08, Vec3::new(0.62, 0.08, 0.95));
        for z in [-0.45, 0.22] {
            let solid = &mut self.to.smooth;
            solid.paint(colours::DRUM);
            let (foot, head) = (Vec3::new(0.0, 0.16, z), Vec3::new(0.0, 1.04, z));
            solid.bar((foot, 0.29), (head, 0.29), sides);
            for y in [0.45, 0.75, 1.03] {
                let at = Vec3::new(0.0, y, z);
                solid.bar(
                    (at - Vec3::Y * 0.015, 0.30),
                    (at + Vec3::Y * 0.015, 0.30),
                    sides,
                );
            }
        }
    }

    /// A mast with four lamps on a trailer.
    fn light_tower(&mut self) {
        let solid = &mut self.to.matt;
        solid.paint(colours::SAND);
        solid.tapered(Vec3::Y * 0.72, Vec3::new(0.5, 0.42, 0.75), Vec2::splat(0.9));
        solid.paint(colours::RUBBER);
        for side in [-1.0, 1.0] {
            let hub = Vec3::new(side * 0.62, 0.3, 0.0);
            solid.bar((hub - Vec3::X * 0.09, 0.3), (hub + Vec3::X * 0.09, 0.3), 12);
        }
        solid.paint(colours::STEEL);
        for (x, z) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
            let foot = Vec3::new(x * 1.05, 0.02, z * 1.05);
            solid.bar(
                (Vec3::new(x * 0.4, 0.42, z * 0.6), 0.035),
                (foot + Vec3::Y * 0.3, 0.03),
                6,
            );
            solid.bar((foot, 0.09), (foot + Vec3::Y * 0.3, 0.025), 6);
        }
        let mut at = Vec3::Y * 1.1;
        for (i, radius) in [0.075, 0.058, 0.042].into_iter().enumerate() {
            let next = Vec3::Y * (1.1 + (MAST_M - 1.1) * (i + 1) as f32 / 3.0);
            solid.bar((at, radius), (next, radius), 8);
            at = next;
        }
        solid.slab(at, Vec3::new(0.7, 0.03, 0.03));
        for x in [-0.58, -0.2, 0.2, 0.58] {
            solid.paint(colours::SLATE);
            solid.tapered(
                at + Vec3::new(x, -0.12, 0.05),
                Vec3::new(0.16, 0.11, 0.10),
                Vec2::new(1.0, 0.5),
            );
            solid.paint(colours::BAND);
            solid.slab(at + Vec3::new(x, -0.16, 0.14), Vec3::new(0.13, 0.06, 0.015));
        }
    }

    fn cable_drum(&mut self) {
        let sides = 20;
        let solid = &mut self.to.matt;
        let axis = Vec3::Y * 0.62;
        for side in [-1.0, 1.0] {
            solid.paint(colours::TIMBER);
            let cheek = axis + Vec3::X * side * 0.36;
            solid.bar(
                (cheek - Vec3::X * 0.03, 0.62),
                (cheek + Vec3::X * 0.03, 0.62),
                sides,
            );
            solid.paint(colours::STEEL);
            solid.bar(
                (cheek - Vec3::X * 0.04, 0.09),
                (cheek + Vec3::X * 0.045, 0.09),
                8,
            );
        }
        solid.paint(colours::RUBBER);
        solid.bar(
            (axis - Vec3::X * 0.33, 0.45),
            (axis + Vec3::X * 0.33, 0.45),
            sides,
        );
        solid.paint(colours::TIMBER_OLD);
        for z in [-0.42, 0.42] {
            solid.tapered(
                Vec3::new(0.0, 0.06, z),
                Vec3::new(0.3, 0.06, 0.09),
                Vec2::new(1.0, 0.2),
            );
        }
    }

    /// Bars, shovels and spare chocks against a rail.
    fn tool_rack(&mut self) {
        let solid = &mut self.to.matt;
        solid.paint(colours::STEEL);
        for z in [-1.1, 1.1] {
            solid.bar(
                (Vec3::new(-0.2, 0.0, z), 0.025),
                (Vec3::new(0.0, 1.1, z), 0.025),
                6,
            );
            solid.bar(
                (Vec3::new(0.25, 0.0, z), 0.025),
                (Vec3::new(0.0, 1.1, z), 0.025),
                6,
            );
        }
        solid.bar(
            (Vec3::new(0.0, 1.08, -1.2), 0.02),
            (Vec3::new(0.0, 1.08, 1.2), 0.02),
            6,
        );
        for (i, z) in [-0.8, -0.45, -0.1, 0.3, 0.7].into_iter().enumerate() {
            let (foot, head) = (Vec3::new(-0.32, 0.02, z), Vec3::new(0.02, 1.25, z + 0.06));
            if i % 2 == 0 {
                solid.paint(colours::RUST);
                solid.bar((foot, 0.016), (head, 0.016), 6);
            } else {
                solid.paint(colours::TIMBER);
                solid.bar((foot, 0.018), (head, 0.018), 6);
                solid.paint(colours::STEEL);
                solid.slab(
                    foot + Vec3::new(0.03, 0.14, 0.0),
                    Vec3::new(0.012, 0.16, 0.11),
                );
            }
        }
        solid.paint(colours::SLATE);
        solid.tapered(
            Vec3::new(0.15, 0.16, 0.3),
            Vec3::new(0.2, 0.16, 0.34),
            Vec2::new(0.9, 0.95),
        );
    }

    /// Ramps over the cables that come from the generator.
    fn covers(&mut self, piece: &Piece) {
        let count = 5;
        let long_m = 2.0 * piece.half_z_m as f32 / count as f32;
        for i in 0..count {
            let z = -(piece.half_z_m as f32) + long_m * (i as f32 + 0.5);
            let solid = &mut self.to.smooth;
            solid.paint(colours::RUBBER);
            solid.tapered(
                Vec3::new(0.0, 0.035, z),
                Vec3::new(0.28, 0.035, 0.48 * long_m),
                Vec2::new(0.45, 1.0),
            );
            solid.paint(colours::SAND);
            solid.slab(
                Vec3::new(0.0, 0.072, z),
                Vec3::new(0.05, 0.004, 0.46 * long_m),
            );
        }
    }

    /// Panels of wire in frames on concrete feet, with a gate behind the rack and an opening where
    /// the string goes out.
    fn fence(&mut self, fence: &Patch) {
        let corners = fence.corners();
        for (n, &from) in corners.iter().enumerate() {
            let to = corners[(n + 1) % corners.len()];
            let length_m = (to.x_m - from.x_m).hypot(to.z_m - from.z_m);
            let count = (length_m / f64::from(PANEL_M)).round().max(1.0) as usize;
            let along = |i: usize| {
                let share = i as f64 / count as f64;
                Place {
                    x_m: from.x_m + share * (to.x_m - from.x_m),
                    z_m: from.z_m + share * (to.z_m - from.z_m),
                }
            };
            for i in 0..count {
                let (one, other) = (along(i), along(i + 1));
                let middle = Place {
                    x_m: 0.5 * (one.x_m + other.x_m),
                    z_m: 0.5 * (one.z_m + other.z_m),
                };
                let in_gate = middle.x_m <= fence.x_m.0 + 0.1 && middle.z_m.abs() < GATE_HALF_M;
                let at_string = middle.z_m >= fence.z_m.1 - 0.1 && middle.x_m.abs() < STRING_HALF_M;
                if !in_gate && !at_string {
                    self.panel(one, other);
                }
            }
        }
    }

    fn panel(&mut self, from: Place, to: Place) {
        let [low_from, low_to] = [from, to].map(|place| self.lie.at(place) + Vec3::Y * 0.12);
        let up = Vec3::Y * PANEL_HIGH_M;
        let inset = (low_to - low_from) * 0.02;
        let (a, b) = (low_from + inset, low_to - inset);
        let sides = if self.sides > 8 { 6 } else { 3 };
        let solid = &mut self.to.matt;
        solid.paint(colours::STEEL);
        for (one, other) in [(a, a + up), (b, b + up), (a + up, b + up), (a, b)] {
            solid.sleeve((one, 0.02), (other, 0.02), sides);
        }
        solid.paint(colours::CONCRETE);
        let along = (b - a).normalize_or(Vec3::X);
        let turn = Quat::from_rotation_arc(Vec3::X, along);
        solid.at(Transform::from_translation(low_from - Vec3::Y * 0.06).with_rotation(turn));
        solid.tapered(Vec3::ZERO, Vec3::new(0.12, 0.07, 0.32), Vec2::splat(0.85));
        solid.at(Transform::IDENTITY);
        let wire = &mut self.to.wire;
        let across = (b - a).length() / WIRE_M;
        let high = PANEL_HIGH_M / WIRE_M;
        let normal = along.cross(Vec3::Y);
        let corners = [
            wire.corner(a, normal, [0.0, high]),
            wire.corner(b, normal, [across, high]),
            wire.corner(b + up, normal, [across, 0.0]),
            wire.corner(a + up, normal, [0.0, 0.0]),
        ];
        wire.triangle([corners[0], corners[1], corners[2]]);
        wire.triangle([corners[0], corners[2], corners[3]]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::scene::site::shipped;

    /// Whatever stands there is drawn within the patch that was kept for it.
    #[test]
    fn things_stay_within_their_patches() {
        for (name, rig) in shipped() {
            let site = Site::of(&rig);
            for (n, piece) in site.pieces.iter().enumerate() {
                let mut builder = Builder {
                    lie: Lie::of(&rig),
                    rig: &rig,
                    sides: 16,
                    weather: Weather::of(rig.spec()),
                    to: Dressed::default(),
                };
                builder.piece(piece, n as i32);
                let Dressed { matt, smooth, .. } = &builder.to;
                assert!(!matt.is_empty() || !smooth.is_empty(), "{name}: {piece:?}");
                let patch = piece.patch().wider(0.01);
                for at in matt.corners().chain(smooth.corners()) {
                    let place = Place {
                        x_m: rig.mirror() * f64::from(at.x),
                        z_m: f64::from(at.z),
                    };
                    assert!(patch.depth_m(place) >= 0.0, "{name}: {piece:?} at {at}");
                }
            }
        }
    }

    #[test]
    fn it_takes_few_corners() {
        let (_, rig) = shipped().swap_remove(0);
        let count = |quality| {
            let weather = Weather::of(rig.spec());
            let dressed = dress(&rig, &Site::of(&rig), quality, weather);
            dressed.matt.corner_count()
                + dressed.smooth.corner_count()
                + dressed.wire.corner_count()
        };
        assert!(count(Quality::Low) < 30_000, "{}", count(Quality::Low));
        assert!(count(Quality::High) < 60_000, "{}", count(Quality::High));
    }
}
