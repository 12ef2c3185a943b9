//! Statements about attempts by the open standard xAPI 1.0.3, and how they come to a record store.
//!
//! | module | what it is |
//! |---|---|
//! | `statement` | what is stated about an attempt |
//! | `queue` | what waits in the store, and how far it has come |
//! | `send` | posting it |

mod queue;
mod send;
mod statement;

pub use send::{Endpoint, EndpointError, Manner, Sent};
pub use statement::{Stated, about};
