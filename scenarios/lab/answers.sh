#!/usr/bin/env bash
# Runs sweeps of this folder and keeps of each what is committed below answers/: the sheet, two charts and
# every 41st row. Whole outputs lie in FOLDER; what was broken off is gone on with.
#
#   scenarios/lab/answers.sh PROGRAM FOLDER [NAME...]
set -euo pipefail

program="$(realpath "${1:?which program? scenarios/lab/answers.sh target/release/chockline FOLDER}")"
mkdir -p "${2:?which folder for the whole outputs?}"
folder="$(realpath "$2")"
shift 2
cd "$(dirname "${BASH_SOURCE[0]}")"
if [ $# -eq 0 ]; then
    mapfile -t names < <(grep -l against: ./*.ron | xargs -n 1 basename -s .ron)
    set -- "${names[@]}"
fi

for name; do
    out="$folder/$name"
    began=$SECONDS
    "$program" --lang en sweep "$name.ron" --out "$out" --resume >"$folder/$name.txt"
    echo "$name: $((SECONDS - began)) s" >&2
    kept="answers/$name"
    rm -rf "$kept"
    mkdir -p "$kept"
    cp "$folder/$name.txt" "$kept/sheet.txt"
    for chart in window probability_1 run_out; do
        [ ! -e "$out/$chart.svg" ] || cp "$out/$chart.svg" "$kept/"
    done
    # Head and names of the columns, then rows from the middle of the first stretch on.
    awk '/^# / || !named { print; if (!/^# /) named = 1; next } ++row % 41 == 20' \
        "$out/rows.csv" >"$kept/sample.csv"
done
