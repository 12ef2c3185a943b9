# What the judge says: findings, acts, causes, score.
severity-critical = critical
