//! Colours, type and sizes: the only place of the program that names a colour.

/// The machinery: our own livery and bare materials, as 0xRRGGBB.
pub mod machinery {
    /// Machine steel.
    pub const SLATE: u32 = 0x2F3B45;
    /// The same where paint is rubbed off its edges.
    pub const SLATE_WORN: u32 = 0x76818A;
    /// Accents of the livery.
    pub const SAND: u32 = 0xD9C7A3;
    pub const SAND_WORN: u32 = 0x9C917C;
    /// Bright machined steel: pins, wheels, running faces.
    pub const MACHINED: u32 = 0xCDD3D8;
    pub const MACHINED_EDGE: u32 = 0xEEF2F4;
    /// Ram rods.
    pub const CHROME: u32 = 0xE9ECEE;
    pub const GALVANISED: u32 = 0x9AA3A8;
    /// Cast and forged parts.
    pub const DARK_STEEL: u32 = 0x4B5157;
    pub const DARK_STEEL_EDGE: u32 = 0x868D92;
    pub const RUBBER: u32 = 0x24272A;
    pub const RUBBER_EDGE: u32 = 0x3A3E42;
    /// The urethane of the turning barrels.
    pub const URETHANE: u32 = 0xB9864B;
    pub const HOSE: u32 = 0x1D2023;
    pub const TIMBER: u32 = 0x8C6F4C;
    pub const TIMBER_EDGE: u32 = 0xA98B63;
    /// Mats under feet.
    pub const PAD: u32 = 0x5B564B;
    pub const PLASTIC: u32 = 0xE4E2DC;
    pub const BUTTON_GREY: u32 = 0x8F9498;
    pub const BUTTON_BLACK: u32 = 0x202326;
    pub const RUST: u32 = 0x7B4426;
    pub const RUST_EDGE: u32 = 0x9A5B34;
    pub const OIL: u32 = 0x15120F;
    pub const GLASS: u32 = 0x9DB6C0;
    /// The fluid of a vial.
    pub const FLUID: u32 = 0xBFD8C8;
    pub const FROST: u32 = 0xE8F0F4;
    pub const GLAZE: u32 = 0xB9CFDA;
    pub const WET_STEEL: u32 = 0x6E777D;
    /// The coating of a heater plate.
    pub const HEATER: u32 = 0x5E6B4F;
    /// Emergency stop only.
    pub const STOP: u32 = 0xB3181C;
    pub const STOP_GROUND: u32 = 0xF9C80E;
    /// Pipe.
    pub const PIPE: u32 = 0x1E2124;
    pub const PIPE_BORE: u32 = 0x141618;
    pub const PIPE_END: u32 = 0x63696E;
    pub const PIPE_END_RIM: u32 = 0x8A9196;
    pub const PIPE_STRIPE: u32 = 0x5F9EC4;
    pub const CHALK: u32 = 0xF3EFE6;
}
