//! Colours, type and sizes: the only place of the program that names a colour.

/// Ground, sky, weather, people, cones, dressing and overlays.
pub mod yard {
    use bevy::color::Color;

    /// The sky's colours and the light that comes with them.
    #[derive(Clone, Copy, Debug)]
    pub struct SkyColours {
        pub zenith: Color,
        pub horizon: Color,
        /// Around the sun.
        pub glow: Color,
        pub cloud: Color,
        pub sun: Color,
        /// Light from all around, where there is no map of it.
        pub fill: Color,
    }

    pub const MORNING: SkyColours = SkyColours {
        zenith: Color::srgb(0.28, 0.51, 0.80),
        horizon: Color::srgb(0.75, 0.81, 0.86),
        glow: Color::srgb(1.0, 0.93, 0.78),
        cloud: Color::srgb(0.95, 0.95, 0.94),
        sun: Color::srgb(1.0, 0.94, 0.83),
        fill: Color::srgb(0.80, 0.87, 1.0),
    };
    pub const OVERCAST: SkyColours = SkyColours {
        zenith: Color::srgb(0.55, 0.59, 0.63),
        horizon: Color::srgb(0.70, 0.73, 0.75),
        glow: Color::srgb(0.82, 0.83, 0.83),
        cloud: Color::srgb(0.57, 0.60, 0.63),
        sun: Color::srgb(0.93, 0.96, 1.0),
        fill: Color::srgb(0.88, 0.94, 1.0),
    };
    pub const FROST: SkyColours = SkyColours {
        zenith: Color::srgb(0.46, 0.62, 0.80),
        horizon: Color::srgb(0.83, 0.86, 0.89),
        glow: Color::srgb(1.0, 0.93, 0.85),
        cloud: Color::srgb(0.90, 0.92, 0.95),
        sun: Color::srgb(1.0, 0.92, 0.82),
        fill: Color::srgb(0.78, 0.88, 1.0),
    };
    pub const DUSK: SkyColours = SkyColours {
        zenith: Color::srgb(0.27, 0.36, 0.54),
        horizon: Color::srgb(0.80, 0.67, 0.57),
        glow: Color::srgb(1.0, 0.72, 0.40),
        cloud: Color::srgb(0.60, 0.43, 0.42),
        sun: Color::srgb(1.0, 0.74, 0.50),
        fill: Color::srgb(0.78, 0.80, 0.92),
    };
    pub const FIRST_LIGHT: SkyColours = SkyColours {
        zenith: Color::srgb(0.24, 0.36, 0.55),
        horizon: Color::srgb(0.86, 0.76, 0.66),
        glow: Color::srgb(1.0, 0.84, 0.60),
        cloud: Color::srgb(0.78, 0.66, 0.62),
        sun: Color::srgb(1.0, 0.80, 0.58),
        fill: Color::srgb(0.72, 0.80, 0.98),
    };

    pub const DIRT: Color = Color::srgb(0.52, 0.44, 0.34);
    pub const DIRT_PALE: Color = Color::srgb(0.63, 0.56, 0.45);
    pub const MUD: Color = Color::srgb(0.33, 0.26, 0.19);
    pub const GRASS: Color = Color::srgb(0.37, 0.42, 0.24);
    pub const GRASS_DRY: Color = Color::srgb(0.52, 0.50, 0.31);
    pub const GRAVEL: Color = Color::srgb(0.60, 0.58, 0.55);
    pub const GRAVEL_PALE: Color = Color::srgb(0.74, 0.72, 0.68);
    pub const RIME: Color = Color::srgb(0.87, 0.90, 0.94);
    pub const WATER: Color = Color::srgb(0.10, 0.095, 0.085);
    pub const RAIN: Color = Color::srgba(0.85, 0.88, 0.92, 0.22);

    pub const TREES: Color = Color::srgb(0.25, 0.31, 0.22);
    pub const WOODS: Color = Color::srgb(0.30, 0.37, 0.31);
    pub const HILLS: Color = Color::srgb(0.36, 0.43, 0.45);

    pub const SLATE: Color = Color::srgb_u8(0x2F, 0x3B, 0x45);
    pub const SAND: Color = Color::srgb_u8(0xD9, 0xC7, 0xA3);
    pub const CONTAINER: Color = Color::srgb(0.50, 0.53, 0.53);
    pub const STEEL: Color = Color::srgb(0.55, 0.57, 0.58);
    pub const RUST: Color = Color::srgb(0.40, 0.24, 0.15);
    pub const TIMBER: Color = Color::srgb(0.62, 0.49, 0.32);
    pub const TIMBER_OLD: Color = Color::srgb(0.47, 0.41, 0.34);
    pub const RUBBER: Color = Color::srgb(0.09, 0.09, 0.10);
    pub const DRUM: Color = Color::srgb(0.23, 0.33, 0.40);
    pub const CONCRETE: Color = Color::srgb(0.62, 0.61, 0.58);
    pub const SACK: Color = Color::srgb(0.72, 0.69, 0.60);
    pub const PIPE: Color = Color::srgb(0.045, 0.047, 0.052);
    pub const PIPE_STRIPE: Color = Color::srgb(0.16, 0.36, 0.62);

    /// High-visibility cloth, its bands, and what else people wear.
    pub const HIGH_VIS_YELLOW: Color = Color::srgb(0.86, 0.98, 0.16);
    pub const HIGH_VIS_ORANGE: Color = Color::srgb(1.0, 0.42, 0.06);
    pub const BAND: Color = Color::srgb(0.86, 0.88, 0.89);
    pub const HELMET_WHITE: Color = Color::srgb(0.94, 0.94, 0.92);
    pub const HELMET_SAND: Color = Color::srgb(0.90, 0.78, 0.50);
    pub const HELMET_SKY: Color = Color::srgb_u8(0x56, 0xB4, 0xE9);
    pub const HELMET_SLATE: Color = Color::srgb(0.32, 0.38, 0.43);
    pub const TROUSERS: Color = Color::srgb(0.15, 0.17, 0.22);
    pub const DENIM: Color = Color::srgb(0.25, 0.32, 0.44);
    pub const APRON: Color = Color::srgb(0.36, 0.25, 0.17);
    pub const SHIRT: Color = Color::srgb(0.30, 0.33, 0.37);
    pub const BOOTS: Color = Color::srgb(0.13, 0.10, 0.08);
    pub const GLOVES: Color = Color::srgb(0.45, 0.42, 0.38);
    pub const SKIN: [Color; 3] = [
        Color::srgb(0.80, 0.60, 0.47),
        Color::srgb(0.62, 0.43, 0.31),
        Color::srgb(0.42, 0.28, 0.20),
    ];
    /// The edge around somebody who was struck.
    pub const OUTLINE: Color = Color::srgb_u8(0xF3, 0xEF, 0xE6);

    pub const CONE: Color = Color::srgb(1.0, 0.36, 0.05);
    pub const CONE_SLEEVE: Color = Color::srgb(0.95, 0.95, 0.93);
    pub const CONE_BASE: Color = Color::srgb(0.10, 0.10, 0.11);

    /// Overlays.
    pub const ZONE_LIVE: Color = Color::srgb_u8(0xF9, 0xA8, 0x00);
    pub const ZONE_AT_REST: Color = Color::srgb_u8(0xF3, 0xEF, 0xE6);
    pub const REACH: Color = Color::srgb_u8(0xF9, 0xA8, 0x00);
    pub const FIRE: Color = Color::srgb_u8(0xD5, 0x5E, 0x00);
    pub const TAUT: Color = Color::srgb_u8(0x56, 0xB4, 0xE9);
    pub const LEVEL: Color = Color::srgb_u8(0xF3, 0xEF, 0xE6);
    pub const CENTRE: Color = Color::srgb_u8(0xF3, 0xEF, 0xE6);
    pub const FORCE: Color = Color::srgb_u8(0x56, 0xB4, 0xE9);
    pub const FRICTION_CONE: Color = Color::srgba_u8(0xF3, 0xEF, 0xE6, 0x38);
    pub const GHOST: Color = Color::srgba_u8(0x56, 0xB4, 0xE9, 0x70);
}
