# What the coach says.
