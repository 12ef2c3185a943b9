//! `chockline window`: the ends of a sweep's window, sought with as few trials as it takes.

use std::path::PathBuf;

use super::{BAD_INPUT, FAULT, PASSED, complain, print};
use crate::lab::{Engine, Estimate, Event, Search, Sweep, search};
use crate::texts::{Message, Texts};

#[derive(Clone, Debug, clap::Args)]
pub struct WindowArgs {
    #[arg(value_name = "FILE")]
    pub file: PathBuf,

    #[arg(long, value_name = "STEP", default_value_t = 0.1)]
    pub within: f64,

    #[arg(long, value_name = "N", default_value_t = 0)]
    pub threads: usize,
}

/// Seeks the window and returns the exit status.
pub fn run(args: &WindowArgs, texts: &Texts) -> u8 {
    let sweep = match Sweep::load(&args.file) {
        Ok(sweep) => sweep,
        Err(error) => return complain(&error.say(texts), BAD_INPUT),
    };
    let bad = |message: Message| complain(&texts.say(&message), BAD_INPUT);
    let (Some(&from), Some(&to)) = (sweep.values.first(), sweep.values.last()) else {
        return bad("sweep-empty-range".into());
    };
    if sweep.limits.is_empty() {
        return bad("lab-no-limits".into());
    }
    if !(args.within > 0.0 && args.within < to - from) {
        return bad("sweep-empty-range".into());
    }
    if let Some(message) = sweep.cannot_show().into_iter().next() {
        return bad(message);
    }
    let engine = match Engine::new(&sweep, args.threads) {
        Ok(engine) => engine,
        Err(message) => return complain(&texts.say(&message), FAULT),
    };
    let events: Vec<Event> = sweep.limits.iter().map(|limit| limit.of).collect();
    let sought = Search {
        from,
        to,
        within: args.within,
        trials: sweep.rows(),
        limits: &sweep.limits,
        confidence: sweep.confidence,
    };
    print(&format!(
        "{}\n{}\n",
        texts.say(&"caution".into()),
        sweep.name
    ));
    for (i, set_up) in sweep.set_ups.iter().enumerate() {
        let found = search(&sought, |value, places| {
            engine.events(i, value, places, &events)
        });
        let mut message = match found.window {
            Some((low, high)) => Message::new("lab-found")
                .measured("low", low, 2)
                .measured("high", high, 2),
            None => Message::new("lab-found-none"),
        };
        message = message
            .with("against", sweep.against.as_str())
            .with("trials", found.trials)
            .with("grid", sought.trials_of_grid());
        let line = [set_up.name.as_str(), &texts.say(&message)].join(" ");
        print(&format!("{}\n", line.trim()));
        if found.open.0 || found.open.1 {
            print(&format!("{}\n", texts.say(&"lab-found-open".into())));
        }
        if let Some(estimate) = Estimate::of_sweep(&sweep, i) {
            for message in estimate.messages() {
                print(&format!("  {}\n", texts.say(&message)));
            }
        }
    }
    print(&format!("{}\n", texts.say(&"lab-found-assumes".into())));
    PASSED
}
