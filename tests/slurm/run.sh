#!/usr/bin/env bash
# Runs a small sweep as a job array of seven parts on a Slurm of one node, merges the parts, and compares
# their rows byte for byte with those of one run.
#
#   tests/slurm/run.sh PROGRAM
#
# As root, with Debian's or Ubuntu's packages slurmd, slurmctld, slurm-client and munge. Keys, sockets,
# ports and state are its own, in a folder of its own: a Slurm that runs already is left alone.
set -euo pipefail

program="$(realpath "${1:?which program? tests/slurm/run.sh target/release/chockline}")"
for tool in munged slurmctld slurmd sbatch; do
    command -v "$tool" >/dev/null || {
        echo "$tool is missing: apt-get install slurmd slurmctld slurm-client munge" >&2
        exit 1
    }
done

work="$(mktemp -d)"
daemons=()
finish() {
    for daemon in "${daemons[@]}"; do
        kill "$daemon" 2>/dev/null || true
        wait "$daemon" 2>/dev/null || true
    done
    if [ "${passed:-}" ]; then rm -rf "$work"; else echo "logs are kept in $work" >&2; fi
}
trap finish EXIT
chmod 755 "$work"
mkdir "$work/munge" "$work/state" "$work/spool"
chmod 711 "$work/munge"
dd if=/dev/urandom of="$work/munge/key" bs=1024 count=1 status=none
chmod 400 "$work/munge/key"
munged --foreground --key-file="$work/munge/key" --socket="$work/munge/socket" \
    --pid-file="$work/munge/pid" --log-file="$work/munge/log" --seed-file="$work/munge/seed" \
    2>"$work/munged.err" &
daemons+=($!)

name="$(hostname -s)"
export SLURM_CONF="$work/slurm.conf"
cat >"$SLURM_CONF" <<CONF
ClusterName=one
SlurmctldHost=$name(127.0.0.1)
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
AuthInfo=socket=$work/munge/socket
CredType=cred/munge
SlurmctldPort=26817
SlurmdPort=26818
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
SlurmctldLogFile=$work/slurmctld.log
SlurmdLogFile=$work/slurmd.log
ProctrackType=proctrack/pgid
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
MpiDefault=none
ReturnToService=2
SlurmdParameters=config_overrides
NodeName=$name NodeAddr=127.0.0.1 CPUs=$(nproc) State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES MaxTime=INFINITE State=UP
CONF
until [ -S "$work/munge/socket" ]; do sleep 0.2; done
slurmctld -D 2>"$work/slurmctld.err" &
daemons+=($!)
slurmd -D 2>"$work/slurmd.err" &
daemons+=($!)
for _ in $(seq 60); do
    if [ "$(sinfo --noheader --format=%T 2>/dev/null)" = idle ]; then break; fi
    sleep 1
done
sinfo

cat >"$work/base.ron" <<'RON'
(format: 1, name: "base", goal: OneStick,
 pipe: (size: Ips(24), wall: Dr(17), ovality_pct: 0.5), row: (sticks: 2))
RON
cat >"$work/sweep.ron" <<'RON'
(format: 1, name: "array", base: "base.ron", seed: 11,
 against: (path: "rack.pitch_deg", values: [0.5, 3, 5, 9, 14]),
 vary: [
     (path: "contact.friction_pipe_on_pipe", spread: Uniform(0.14, 0.3), unmeasured: true),
     (path: "pipe.ovality_pct", spread: Uniform(0, 3)),
 ],
 budget: (trials: 12, corner_trials: 1),
 limits: [(of: DoubleFeed, below: 0.3)])
RON
cat >"$work/job.sh" <<JOB
#!/bin/sh
exec '$program' sweep '$work/sweep.ron' --out "$work/part-\$SLURM_ARRAY_TASK_ID" --part array --threads 1
JOB
cd "$work"
# A first number other than 0 or 1: parts are counted from the array's own beginning.
sbatch --wait --array=3-9 --output="$work/job-%a.log" "$work/job.sh"
"$program" merge sweep.ron part-* --out merged >/dev/null
"$program" sweep sweep.ron --out whole >/dev/null
parts=(part-*)
[ "${#parts[@]}" -eq 7 ] || { echo "${#parts[@]} parts" >&2; exit 1; }
for file in rows.csv rows.parquet answer.json; do
    cmp "whole/$file" "merged/$file"
done
echo "seven parts merged are the whole: $(grep -vc '^#' whole/rows.csv) lines, $(sha256sum <whole/rows.csv | cut -c1-16)"
passed=yes
