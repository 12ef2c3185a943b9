//! The command line in the language of its user: which language, the help, what is wrong with
//! arguments.

use std::env;

use clap::builder::StyledStr;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Arg, ArgAction, Command, CommandFactory, Error};

use super::Cli;
use crate::texts::{Filling, Lang, Message, Texts};

const LANG: &str = "--lang";

/// The language that the arguments ask for, or else that of the environment.
///
/// # Errors
/// The code of a language that there is not.
pub fn language(args: &[String]) -> Result<Lang, String> {
    let mut args = args.iter().take_while(|arg| *arg != "--");
    while let Some(arg) = args.next() {
        let code = match arg.strip_prefix(LANG) {
            Some("") => args.next().map(String::as_str),
            Some(rest) => rest.strip_prefix('='),
            None => None,
        };
        if let Some(code) = code {
            return Lang::of_code(code).ok_or_else(|| code.to_owned());
        }
    }
    Ok(language_of_environment())
}

/// The first of the variables that is set decides, as everywhere else.
pub fn language_of_environment() -> Lang {
    let set = ["LC_ALL", "LC_MESSAGES", "LANG"]
        .into_iter()
        .filter_map(|name| env::var(name).ok())
        .find(|value| !value.is_empty());
    let value = set.unwrap_or_default();
    let code = value.split(['_', '.', '@', '-']).next().unwrap_or_default();
    Lang::of_code(code).unwrap_or_default()
}

/// That there is no such language.
pub fn no_such_language(code: &str) -> Message {
    let codes = Lang::ALL.map(Lang::code).join(", ");
    Message::new("cli-no-such-language")
        .with("code", code)
        .with("codes", codes)
}

/// The command line with its help in a language. Of each argument and subcommand the catalogue has
/// the entry that its place and name give: `cli-run-seed`.
pub fn command(texts: &Texts) -> Command {
    // After the arguments of a subcommand.
    let last = |arg: Arg, order: usize| arg.display_order(900 + order);
    let lang = Arg::new("lang")
        .long("lang")
        .value_name("LANG")
        .global(true);
    let help = Arg::new("help")
        .short('h')
        .long("help")
        .action(ArgAction::Help);
    let version = Arg::new("version")
        .short('V')
        .long("version")
        .action(ArgAction::Version);
    let examples = texts.say(&"cli-examples".into());
    let (status, caution) = (
        texts.say(&"cli-exit-status".into()),
        texts.say(&"caution".into()),
    );
    let command = Cli::command()
        .disable_help_flag(true)
        .disable_version_flag(true)
        .args([last(lang, 0), last(help.global(true), 1), last(version, 2)])
        .after_help(format!("{examples}\n\n{status}\n\n{caution}"));
    told(command, "cli", texts)
}

fn told(command: Command, place: &str, texts: &Texts) -> Command {
    let say = |name: &str| texts.say(&Message::new(format!("{place}-{name}")));
    let usage = texts.say(&"cli-usage-heading".into());
    let names: Vec<String> = command
        .get_subcommands()
        .map(|subcommand| subcommand.get_name().to_owned())
        .collect();
    let command = names.into_iter().fold(command, |command, name| {
        let place = format!("{place}-{name}");
        command.mut_subcommand(&name, |subcommand| told(subcommand, &place, texts))
    });
    let command = command
        .disable_help_subcommand(true)
        .subcommand_help_heading(texts.say(&"cli-commands".into()))
        .about(say("about"))
        .override_usage(say("usage"))
        .help_template(format!(
            "{{about-with-newline}}\n{usage} {{usage}}\n\n{{all-args}}{{after-help}}"
        ))
        .mut_args(|arg| {
            let heading = if arg.is_positional() {
                "cli-arguments"
            } else {
                "cli-options"
            };
            let names = arg
                .get_value_names()
                .filter(|_| arg.get_action().takes_values());
            let value = names.and_then(|names| names.first());
            let value =
                value.map(|name| Message::new(format!("cli-value-{}", name.to_lowercase())));
            let help = say(arg.get_id().as_str());
            let arg = arg.help(help).help_heading(texts.say(&heading.into()));
            match value {
                Some(value) => arg.value_name(texts.say(&value)),
                None => arg,
            }
        });
    let long = format!("{place}-long");
    if texts.has(&long) {
        let about = say("about");
        command.long_about(format!("{about}.\n\n{}", texts.say(&Message::new(long))))
    } else {
        command
    }
}

/// What is wrong with the arguments; nothing where clap's own words are an answer (help, version).
pub fn complaint(error: &Error) -> Option<Message> {
    let context = |kind: ContextKind| -> Option<Filling> {
        match error.get(kind)? {
            ContextValue::String(text) => Some(text.as_str().into()),
            ContextValue::Strings(texts) => Some(texts.join(", ").into()),
            _ => None,
        }
    };
    let argument = || context(ContextKind::InvalidArg).unwrap_or_else(|| "".into());
    let value = context(ContextKind::InvalidValue);
    let (complaint, meant) = match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => return None,
        ErrorKind::UnknownArgument => (
            Message::new("cli-unknown-argument").with("argument", argument()),
            context(ContextKind::SuggestedArg),
        ),
        ErrorKind::InvalidSubcommand => {
            let given = context(ContextKind::InvalidSubcommand);
            (
                Message::new("cli-unknown-command")
                    .with("command", given.unwrap_or_else(|| "".into())),
                context(ContextKind::SuggestedSubcommand),
            )
        }
        ErrorKind::MissingRequiredArgument => (
            Message::new("cli-missing-argument").with("argument", argument()),
            None,
        ),
        ErrorKind::ArgumentConflict => (
            Message::new("cli-argument-twice").with("argument", argument()),
            None,
        ),
        ErrorKind::InvalidValue | ErrorKind::ValueValidation => match value {
            Some(Filling::Text(value)) if !value.is_empty() => (
                Message::new("cli-bad-value")
                    .with("value", value)
                    .with("argument", argument()),
                None,
            ),
            _ => (
                Message::new("cli-missing-value").with("argument", argument()),
                None,
            ),
        },
        ErrorKind::InvalidUtf8 => (Message::new("cli-not-utf-8"), None),
        // What this command line has no way to bring about.
        kind => (
            Message::new("cli-other").with("error", kind.to_string()),
            None,
        ),
    };
    Some(match meant {
        Some(meant) => Message::new("fault-meant")
            .with("what", complaint)
            .with("meant", meant),
        None => complaint,
    })
}

/// The help of a subcommand, or of the whole program.
pub fn help(of: Option<&str>, texts: &Texts) -> Option<StyledStr> {
    let mut command = command(texts);
    command.build();
    let command = match of {
        Some(name) => command.find_subcommand_mut(name)?,
        None => &mut command,
    };
    Some(command.render_long_help())
}
