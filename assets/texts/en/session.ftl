# A run in the window: modes, how it ends, what is kept of it.

standing-not-tried = not tried yet
standing-not-passed = not passed, best { $points } of 100 points
standing-passed = passed, best { $points } of 100 points

store-no-folder = there is no folder to keep runs in; name one in the environment variable { $variable }
results-unreadable = { $file }: the results cannot be read: { $error }
results-line-unreadable = { $file }: line { $line } is no result; it is left as it is and does not count
journal-unreadable = { $file }: the beginning of an assessment that cannot be read: { $error }; it is put aside
settings-put-aside = { $file }: the settings cannot be read: { $error }; the usual ones apply, and the file is kept as { $kept }
settings-unreadable = { $file }: the settings cannot be read: { $error }; the usual ones apply
