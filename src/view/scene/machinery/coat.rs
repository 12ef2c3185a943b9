//! What the machinery is covered with: a coat is a colour, the colour of its worn edges, and the
//! finish, which is the material. Colours go into the corners of a mesh, so that few materials do.

use bevy::asset::RenderAssetUsages;
use bevy::color::{LinearRgba, Srgba};
use bevy::image::{ImageAddressMode, ImageFilterMode, ImageSampler, ImageSamplerDescriptor};
use bevy::prelude::*;
use bevy::render::render_resource::{Extent3d, TextureDimension, TextureFormat};

use crate::domain::spec::Surface;
use crate::view::quality::Quality;
use crate::view::theme::machinery as theme;

/// A material of the machinery.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Finish {
    Paint,
    Metal,
    /// Rubber, timber, rust, hoses.
    Dull,
    Glass,
}

impl Finish {
    pub const ALL: [Self; 4] = [Self::Paint, Self::Metal, Self::Dull, Self::Glass];
}

/// See the module's text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Coat {
    Slate,
    Sand,
    Machined,
    Chrome,
    Galvanised,
    Dark,
    Rubber,
    Urethane,
    Hose,
    Timber,
    Pad,
    Plastic,
    Grey,
    Black,
    Rust,
    Oil,
    Chalk,
    Glass,
    Fluid,
    Heater,
    Frost,
    Glaze,
    Wet,
    Stop,
    StopGround,
}

impl Coat {
    /// The running face of a rail or a saddle.
    pub fn of(surface: Surface) -> Self {
        match surface {
            Surface::Dry => Self::Machined,
            Surface::Wet => Self::Wet,
            Surface::Frosted => Self::Frost,
            Surface::Glazed => Self::Glaze,
        }
    }

    pub fn finish(self) -> Finish {
        match self {
            Self::Slate
            | Self::Sand
            | Self::Plastic
            | Self::Grey
            | Self::Black
            | Self::Stop
            | Self::StopGround
            | Self::Glaze
            | Self::Fluid => Finish::Paint,
            Self::Machined | Self::Chrome | Self::Galvanised | Self::Dark | Self::Wet => {
                Finish::Metal
            }
            Self::Glass => Finish::Glass,
            _ => Finish::Dull,
        }
    }

    /// Colour of the faces and of the edges.
    fn rgb(self) -> (u32, u32) {
        use theme as t;
        match self {
            Self::Slate => (t::SLATE, t::SLATE_WORN),
            Self::Sand => (t::SAND, t::SAND_WORN),
            Self::Machined => (t::MACHINED, t::MACHINED_EDGE),
            Self::Chrome => (t::CHROME, t::CHROME),
            Self::Galvanised => (t::GALVANISED, t::MACHINED),
            Self::Dark => (t::DARK_STEEL, t::DARK_STEEL_EDGE),
            Self::Rubber => (t::RUBBER, t::RUBBER_EDGE),
            Self::Urethane => (t::URETHANE, t::URETHANE),
            Self::Hose => (t::HOSE, t::HOSE),
            Self::Timber => (t::TIMBER, t::TIMBER_EDGE),
            Self::Pad => (t::PAD, t::PAD),
            Self::Plastic => (t::PLASTIC, t::CHALK),
            Self::Grey => (t::BUTTON_GREY, t::BUTTON_GREY),
            Self::Black => (t::BUTTON_BLACK, t::BUTTON_BLACK),
            Self::Rust => (t::RUST, t::RUST_EDGE),
            Self::Oil => (t::OIL, t::OIL),
            Self::Chalk => (t::CHALK, t::CHALK),
            Self::Glass => (t::GLASS, t::GLASS),
            Self::Fluid => (t::FLUID, t::FLUID),
            Self::Heater => (t::HEATER, t::DARK_STEEL_EDGE),
            Self::Frost => (t::FROST, t::CHALK),
            Self::Glaze => (t::GLAZE, t::FROST),
            Self::Wet => (t::WET_STEEL, t::GALVANISED),
            Self::Stop => (t::STOP, t::STOP),
            Self::StopGround => (t::STOP_GROUND, t::STOP_GROUND),
        }
    }

    pub fn colour(self) -> [f32; 4] {
        linear(self.rgb().0)
    }

    pub fn edge(self) -> [f32; 4] {
        linear(self.rgb().1)
    }
}

/// A colour of the theme as the corners of a mesh hold it.
pub fn linear(rgb: u32) -> [f32; 4] {
    let [_, r, g, b] = rgb.to_be_bytes();
    LinearRgba::from(Srgba::rgb_u8(r, g, b)).to_f32_array()
}

/// The materials, shared by everything of the machinery.
#[derive(Default)]
pub struct Finishes([Handle<StandardMaterial>; Finish::ALL.len()]);

impl Finishes {
    pub fn new(
        quality: Quality,
        materials: &mut Assets<StandardMaterial>,
        images: &mut Assets<Image>,
    ) -> Self {
        // A machine without a graphics card has better things to do.
        let grime = (quality != Quality::Low).then(|| images.add(grime()));
        Self(Finish::ALL.map(|finish| {
            let shared = StandardMaterial {
                base_color_texture: grime.clone(),
                ..StandardMaterial::default()
            };
            materials.add(match finish {
                Finish::Paint => StandardMaterial {
                    perceptual_roughness: 0.5,
                    ..shared
                },
                // Without pictures of its surroundings a full metal would be black.
                Finish::Metal => StandardMaterial {
                    perceptual_roughness: 0.38,
                    metallic: 0.45,
                    reflectance: 0.6,
                    ..shared
                },
                Finish::Dull => StandardMaterial {
                    perceptual_roughness: 0.92,
                    reflectance: 0.25,
                    ..shared
                },
                Finish::Glass => StandardMaterial {
                    base_color: Color::WHITE.with_alpha(0.35),
                    perceptual_roughness: 0.08,
                    alpha_mode: AlphaMode::Blend,
                    ..StandardMaterial::default()
                },
            })
        }))
    }

    pub fn of(&self, finish: Finish) -> Handle<StandardMaterial> {
        self.0[finish as usize].clone()
    }
}

/// Width of the picture of dust and rub marks, pixels, and of what it covers, m.
const GRIME_PX: usize = 256;
pub const GRIME_M: f32 = 1.6;

/// Dust, stains and rub marks, light grey: it darkens what it lies on here and there. It repeats
/// without a seam.
fn grime() -> Image {
    let wave = |x: f32, y: f32, turns: (f32, f32), phase: f32| {
        (std::f32::consts::TAU * (turns.0 * x + turns.1 * y) + phase).sin()
    };
    let shade = |x: f32, y: f32, grain: f32| {
        let warp = 0.12 * wave(x, y, (1.0, 2.0), 0.4) + 0.09 * wave(x, y, (3.0, -1.0), 2.0);
        let broad = wave(x + warp, y, (2.0, 1.0), 1.1) + wave(x, y + warp, (-1.0, 3.0), 0.2);
        let fine = wave(x + warp, y - warp, (9.0, 5.0), 0.7) * wave(x, y + warp, (5.0, -7.0), 1.9);
        0.925 + 0.03 * broad + 0.022 * fine + 0.03 * (grain - 0.5)
    };
    let mut seed = 0x2545_F491_u32;
    let pixels = (0..GRIME_PX * GRIME_PX).map(|pixel| {
        // A small generator of our own: the picture is the same on every machine.
        seed ^= seed << 13;
        seed ^= seed >> 17;
        seed ^= seed << 5;
        let grain = (seed >> 8) as f32 / (1 << 24) as f32;
        let at = |index: usize| index as f32 / GRIME_PX as f32;
        let level = shade(at(pixel % GRIME_PX), at(pixel / GRIME_PX), grain);
        let level = (255.0 * level.clamp(0.0, 1.0)) as u8;
        [level, level, level, 255]
    });
    picture(GRIME_PX, GRIME_PX, pixels.collect())
}

/// A picture with all its smaller copies, so that it does not sparkle in the distance; it repeats.
/// Width and height are powers of two.
pub fn picture(width: usize, height: usize, pixels: Vec<[u8; 4]>) -> Image {
    let mut level = (width, height, pixels);
    let mut data: Vec<u8> = Vec::with_capacity(width * height * 6);
    let mut levels = 0;
    loop {
        data.extend(level.2.iter().flatten());
        levels += 1;
        if level.0 == 1 && level.1 == 1 {
            break;
        }
        level = halved(&level);
    }
    let extent = Extent3d {
        width: width as u32,
        height: height as u32,
        depth_or_array_layers: 1,
    };
    let (dimension, format) = (TextureDimension::D2, TextureFormat::Rgba8UnormSrgb);
    let usage = RenderAssetUsages::RENDER_WORLD;
    let mut image = Image::new_uninit(extent, dimension, format, usage);
    image.texture_descriptor.mip_level_count = levels;
    image.data = Some(data);
    image.sampler = ImageSampler::Descriptor(ImageSamplerDescriptor {
        address_mode_u: ImageAddressMode::Repeat,
        address_mode_v: ImageAddressMode::Repeat,
        mag_filter: ImageFilterMode::Linear,
        min_filter: ImageFilterMode::Linear,
        mipmap_filter: ImageFilterMode::Linear,
        anisotropy_clamp: 4,
        ..ImageSamplerDescriptor::default()
    });
    image
}

type Level = (usize, usize, Vec<[u8; 4]>);

fn halved((width, height, pixels): &Level) -> Level {
    let (w, h) = ((width / 2).max(1), (height / 2).max(1));
    let (step_x, step_y) = (width / w, height / h);
    let mut smaller = Vec::with_capacity(w * h);
    for y in 0..h {
        for x in 0..w {
            let mut sum = [0_u32; 4];
            for pixel in 0..step_x * step_y {
                let (px, py) = (x * step_x + pixel % step_x, y * step_y + pixel / step_x);
                for (sum, &part) in sum.iter_mut().zip(&pixels[py * width + px]) {
                    *sum += u32::from(part);
                }
            }
            smaller.push(sum.map(|sum| (sum / (step_x * step_y) as u32) as u8));
        }
    }
    (w, h, smaller)
}
