//! Textures made by the program: noise that tiles, and images with all their sizes.
//!
//! Everything follows from the numbers given: the same texture on every machine and every time.

use bevy::asset::RenderAssetUsages;
use bevy::image::{ImageAddressMode, ImageFilterMode, ImageSampler, ImageSamplerDescriptor};
use bevy::prelude::*;
use bevy::render::render_resource::{Extent3d, TextureDimension, TextureFormat};

/// A number from 0 to 1 for a place of a lattice.
pub fn speck(x: i32, y: i32, seed: u32) -> f32 {
    let mut bits = (x as u32).wrapping_mul(0x85EB_CA6B)
        ^ (y as u32).wrapping_mul(0xC2B2_AE35)
        ^ seed.wrapping_mul(0x27D4_EB2F);
    bits ^= bits >> 15;
    bits = bits.wrapping_mul(0x2C1B_3C6D);
    bits ^= bits >> 12;
    bits = bits.wrapping_mul(0x297A_2D39);
    bits ^= bits >> 15;
    (bits >> 8) as f32 / (1 << 24) as f32
}

fn soft(t: f32) -> f32 {
    t * t * t * (t * (t * 6.0 - 15.0) + 10.0)
}

/// Noise from 0 to 1 over a lattice that comes again after `period` (0: never).
pub fn noise(x: f32, y: f32, period: i32, seed: u32) -> f32 {
    let (x0, y0) = (x.floor(), y.floor());
    let (fx, fy) = (soft(x - x0), soft(y - y0));
    let wrap = |i: i32| if period > 0 { i.rem_euclid(period) } else { i };
    let (i, j) = (x0 as i32, y0 as i32);
    let at = |di: i32, dj: i32| speck(wrap(i + di), wrap(j + dj), seed);
    let low = at(0, 0) + (at(1, 0) - at(0, 0)) * fx;
    let high = at(0, 1) + (at(1, 1) - at(0, 1)) * fx;
    low + (high - low) * fy
}

/// Noise in several sizes, each half as large and half as strong as the one before; 0 to 1.
pub fn rough(x: f32, y: f32, period: i32, octaves: u32, seed: u32) -> f32 {
    let (mut sum, mut weights, mut weight, mut scale) = (0.0, 0.0, 1.0, 1);
    for octave in 0..octaves {
        let s = scale as f32;
        sum += weight * noise(x * s, y * s, period * scale, seed.wrapping_add(octave));
        weights += weight;
        weight *= 0.5;
        scale *= 2;
    }
    sum / weights
}

/// Stones: how near the nearest middle of a cell is (0 at it, 1 half a cell away and more), and a
/// number of its own for that stone.
fn stone(x: f32, y: f32, period: i32, seed: u32) -> (f32, f32) {
    let (i, j) = (x.floor() as i32, y.floor() as i32);
    let (mut nearest, mut second, mut own) = (f32::MAX, f32::MAX, 0.0);
    for dj in -1..=1 {
        for di in -1..=1 {
            let (ci, cj) = (i + di, j + dj);
            let (wi, wj) = (ci.rem_euclid(period), cj.rem_euclid(period));
            let mx = ci as f32 + 0.15 + 0.7 * speck(wi, wj, seed);
            let my = cj as f32 + 0.15 + 0.7 * speck(wi, wj, seed ^ 0x55);
            let squared = (x - mx) * (x - mx) + (y - my) * (y - my);
            if squared < nearest {
                second = nearest;
                nearest = squared;
                own = speck(wi, wj, seed ^ 0xAA);
            } else {
                second = second.min(squared);
            }
        }
    }
    // Falls to 1 on the way to the neighbouring stone.
    let (near, far) = (nearest.sqrt(), second.sqrt());
    (
        (near / (0.5 * (near + far)).max(1.0e-4)).clamp(0.0, 1.0),
        own,
    )
}

/// Height, shade and roughness of a surface at a point of its tile; each 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grain {
    pub height: f32,
    pub shade: f32,
}

/// Trodden earth with some small stones; `u`, `v` from 0 to 1.
pub fn earth(u: f32, v: f32) -> Grain {
    let fine = rough(u * 24.0, v * 24.0, 24, 4, 11);
    let broad = rough(u * 5.0, v * 5.0, 5, 3, 23);
    let (off, own) = stone(u * 42.0, v * 42.0, 42, 31);
    // One cell in eight holds a stone.
    let stony = if own > 0.88 {
        (1.0 - off * 1.25).max(0.0)
    } else {
        0.0
    };
    let cracks = (1.0 - (rough(u * 9.0, v * 9.0, 9, 3, 47) - 0.5).abs() * 14.0).max(0.0);
    Grain {
        height: 0.45 * fine + 0.25 * broad + 0.16 * stony.sqrt() - 0.10 * cracks,
        shade: 0.72 + 0.30 * (fine - 0.5) + 0.28 * (broad - 0.5) + 0.14 * stony * (own * 4.0 - 3.0)
            - 0.06 * cracks,
    }
}

/// Crushed stone.
pub fn gravel(u: f32, v: f32) -> Grain {
    let (off, own) = stone(u * 34.0, v * 34.0, 34, 7);
    let (small, small_own) = stone(u * 71.0, v * 71.0, 71, 19);
    let dome = (1.0 - off * off).max(0.0).sqrt();
    let chips = 0.5 * (1.0 - small * small).max(0.0).sqrt();
    let dust = rough(u * 12.0, v * 12.0, 12, 3, 3);
    let stone_shade = 0.42 + 0.5 * own;
    let chip_shade = 0.40 + 0.4 * small_own;
    let on_top = dome > chips;
    Grain {
        height: dome.max(chips),
        shade: (if on_top { stone_shade } else { chip_shade }) * (0.55 + 0.45 * dome.max(chips))
            + 0.18 * (dust - 0.4),
    }
}

/// Prints of a wheel's tread along v, within u from 0 to 1: bars at a slant on both halves.
pub fn tread(u: f32, v: f32) -> Grain {
    let slant = (u - 0.5).abs() * 1.6;
    let bar = ((v * 8.0 + slant).rem_euclid(1.0) - 0.5).abs() * 2.0;
    let pressed = ((bar - 0.35) * 4.0).clamp(0.0, 1.0);
    let loose = rough(u * 8.0, v * 16.0, 16, 3, 61);
    let worn = rough(u * 2.0, v * 4.0, 4, 2, 83);
    let pressed = pressed * (0.35 + 0.65 * worn);
    Grain {
        height: 0.5 - 0.35 * pressed + 0.25 * loose,
        shade: 0.86 - 0.20 * pressed + 0.18 * (loose - 0.5),
    }
}

/// Whether wire of a fence of diamond mesh is at a point of its tile, 0 to 1.
pub fn wire(u: f32, v: f32) -> f32 {
    let strand = |t: f32| {
        let off = (t.rem_euclid(1.0) - 0.5).abs();
        (1.25 - off * 7.0).clamp(0.0, 1.0)
    };
    strand(u + v).max(strand(u - v))
}

/// Shade, normals and nothing else: what the ground's materials are made of.
pub struct Skin {
    pub shade: Image,
    pub normals: Image,
}

/// A skin of `px` by `px` from a surface. `steep` is how many tiles high its height of 1 is.
pub fn skin(px: u32, surface: impl Fn(f32, f32) -> Grain, steep: f32) -> Skin {
    let grain: Vec<Grain> = (0..px * px)
        .map(|i| {
            let (x, y) = (i % px, i / px);
            surface((x as f32 + 0.5) / px as f32, (y as f32 + 0.5) / px as f32)
        })
        .collect();
    let at = |x: u32, y: u32| grain[((y % px) * px + x % px) as usize].height;
    let shades = grain.iter().map(|grain| {
        let shade = byte(grain.shade);
        [shade, shade, shade, 255]
    });
    let normals = (0..px * px).map(|i| {
        let (x, y) = (i % px, i / px);
        let per_tile = steep * px as f32 / 2.0;
        let du = (at(x + 1, y) - at(x + px - 1, y)) * per_tile;
        let dv = (at(x, y + 1) - at(x, y + px - 1)) * per_tile;
        let normal = Vec3::new(-du, -dv, 1.0).normalize();
        let [r, g, b] = (normal * 0.5 + 0.5).to_array().map(byte);
        [r, g, b, 255]
    });
    Skin {
        shade: tiled(px, shades.collect(), TextureFormat::Rgba8UnormSrgb),
        normals: tiled(px, normals.collect(), TextureFormat::Rgba8Unorm),
    }
}

fn byte(share: f32) -> u8 {
    (share.clamp(0.0, 1.0) * 255.0).round() as u8
}

/// A white image of `px` by `px` with this opacity over its tile.
pub fn mask(px: u32, opacity: impl Fn(f32, f32) -> f32) -> Image {
    toned(px, |u, v| [1.0, opacity(u, v)])
}

/// A grey image of `px` by `px` with this tone (of white) and opacity over its tile.
pub fn toned(px: u32, of: impl Fn(f32, f32) -> [f32; 2]) -> Image {
    let pixels = (0..px * px).map(|i| {
        let (x, y) = (i % px, i / px);
        let [tone, alpha] =
            of((x as f32 + 0.5) / px as f32, (y as f32 + 0.5) / px as f32).map(byte);
        [tone, tone, tone, alpha]
    });
    tiled(px, pixels.collect(), TextureFormat::Rgba8UnormSrgb)
}

/// An image that repeats, with all its smaller sizes. `px` is a power of two.
fn tiled(px: u32, pixels: Vec<[u8; 4]>, format: TextureFormat) -> Image {
    let mut data: Vec<u8> = Vec::new();
    let (mut level, mut width, mut levels) = (pixels, px as usize, 0);
    loop {
        data.extend(level.iter().flatten());
        levels += 1;
        if width == 1 {
            break;
        }
        width /= 2;
        level = (0..width * width)
            .map(|i| {
                let (x, y) = (2 * (i % width), 2 * (i / width));
                let from = |dx: usize, dy: usize| level[(y + dy) * 2 * width + x + dx];
                let four = [from(0, 0), from(1, 0), from(0, 1), from(1, 1)];
                std::array::from_fn(|c| {
                    (four
                        .iter()
                        .map(|p| u32::from(p[c]))
                        .sum::<u32>()
                        .div_ceil(4))
                    .min(255) as u8
                })
            })
            .collect();
    }
    let mut image = Image::new_uninit(
        Extent3d {
            width: px,
            height: px,
            depth_or_array_layers: 1,
        },
        TextureDimension::D2,
        format,
        RenderAssetUsages::RENDER_WORLD,
    );
    image.data = Some(data);
    image.texture_descriptor.mip_level_count = levels;
    image.sampler = ImageSampler::Descriptor(ImageSamplerDescriptor {
        address_mode_u: ImageAddressMode::Repeat,
        address_mode_v: ImageAddressMode::Repeat,
        mag_filter: ImageFilterMode::Linear,
        min_filter: ImageFilterMode::Linear,
        mipmap_filter: if px > 256 {
            ImageFilterMode::Linear
        } else {
            ImageFilterMode::Nearest
        },
        anisotropy_clamp: match px {
            ..=256 => 1,
            257..=512 => 4,
            _ => 8,
        },
        ..ImageSamplerDescriptor::default()
    });
    image
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_texture_every_time() {
        let [one, other] = [(); 2].map(|()| skin(64, gravel, 0.03));
        assert_eq!(one.shade.data, other.shade.data);
        assert_eq!(one.normals.data, other.normals.data);
        // All sizes down to one pixel are there, and it is not of one shade.
        let data = one.shade.data.unwrap();
        let pixels: u32 = (0..=6).map(|level| (64 >> level) * (64 >> level)).sum();
        assert_eq!(data.len() as u32, 4 * pixels);
        assert_eq!(one.shade.texture_descriptor.mip_level_count, 7);
        let shades = data[..4 * 64 * 64].chunks(4).map(|p| p[0]);
        assert!(shades.clone().max() > shades.min().map(|low| low + 60));
    }

    #[test]
    fn tiles_meet_at_their_edges() {
        for surface in [earth, gravel] {
            for k in 0..200 {
                let v = k as f32 / 200.0;
                let close = |a: Grain, b: Grain| {
                    assert!((a.height - b.height).abs() < 1.0e-2, "{a:?} {b:?}");
                    assert!((a.shade - b.shade).abs() < 0.1, "{a:?} {b:?}");
                };
                close(surface(1.0e-5, v), surface(1.0 - 1.0e-5, v));
                close(surface(v, 1.0e-5), surface(v, 1.0 - 1.0e-5));
            }
        }
    }
}
