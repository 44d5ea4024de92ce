#!/usr/bin/env bash
# How time grows with places, windows and years: runs the benchmarks, keeps their figures in
# growth/NAME.csv and plots them with a line through them in growth/NAME.svg (gnuplot).
# Usage: growth.sh BENCHMARK_PROGRAM [NAME...]
set -euo pipefail
program=$1
shift
folder=$(cd "$(dirname "$0")" && pwd)/growth
names=("$@")
[ ${#names[@]} -gt 0 ] || names=(places windows years)

for name in "${names[@]}"; do
    echo "$name,cpu_ms" >"$folder/$name.csv"
    "$program" --benchmark_filter="^growth_$name/" --benchmark_format=csv 2>/dev/null |
        sed -n "s|^\"growth_$name/\([0-9]*\)[^\"]*\",[^,]*,[^,]*,\([^,]*\),.*|\1,\2|p" \
            >>"$folder/$name.csv"
    gnuplot <<EOF
set datafile separator ","
set terminal svg size 640,420 font "sans-serif,13"
set output "$folder/$name.svg"
set xlabel "$name"
set ylabel "CPU time, ms"
set xrange [0:*]
set yrange [0:*]
set grid
set key left top
slope = 1
f(x) = start + slope * x
start = 1
fit f(x) "$folder/$name.csv" skip 1 using 1:2 via start, slope
plot "$folder/$name.csv" skip 1 using 1:2 with points pointtype 6 linecolor "black" title "measured", \\
     f(x) with lines linecolor "black" dashtype 2 title sprintf("%.3g ms and %.3g ms each", start, slope)
EOF
done
rm -f fit.log
