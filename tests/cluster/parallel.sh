#!/usr/bin/env bash
# Places shared out by GNU parallel on one machine: the bytes of one process, in its order.
. "$(dirname "$0")/places.sh"
need parallel
export HOME=$scratch  # parallel keeps notes there

parallel --will-cite --pipe -k -j2 --block 64k "${ask[@]}" <"$scratch/places.ndjson" \
    >"$scratch/block.json"
same "$scratch/block.json" "parallel --pipe --block 64k"

parallel --will-cite --pipe -k -j3 -N 150 "${ask[@]}" <"$scratch/places.ndjson" >"$scratch/count.json"
same "$scratch/count.json" "parallel --pipe -N 150"

parallel --will-cite --pipepart -k -j2 -a "$scratch/places.ndjson" --block -4 "${ask[@]}" \
    >"$scratch/part.json"
same "$scratch/part.json" "parallel --pipepart --block -4"

of_topic 1 >"$scratch/topic.sh"
[ -s "$scratch/topic.sh" ] || { echo "the topic has no such block" >&2; exit 1; }
(cd "$scratch" && bash -euo pipefail topic.sh)
same "$scratch/answers.ndjson" "parallel, as the manual has it"

# CSV: one header, then shares without.
csv=("$program" batch - --csv --date 2026-02-17)
"${csv[@]}" <"$scratch/places.ndjson" >"$scratch/one.csv"
{
    "${csv[@]}" </dev/null
    parallel --will-cite --pipe -k -j2 -N 200 "${csv[@]}" --no-header <"$scratch/places.ndjson"
} >"$scratch/shares.csv"
cmp "$scratch/one.csv" "$scratch/shares.csv" || { echo "CSV differs" >&2; exit 1; }
echo "CSV shares: byte for byte as one process"
