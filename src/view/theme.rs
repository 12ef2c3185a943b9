//! Colours, type and sizes: the only place of the program that names a colour.
