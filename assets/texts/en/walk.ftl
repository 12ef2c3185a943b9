# On foot: set-out and walk-round.
