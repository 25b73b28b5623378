#!/bin/sh
# Code size of the reference on a Cortex-M4: text, data and bss of each object file, and RAM of one sensor.
set -eu
cd "$(dirname "$0")"
compiler=arm-none-eabi-gcc
if ! command -v "$compiler" > /dev/null; then
  echo "size.sh: $compiler is not installed (Debian: apt-get install gcc-arm-none-eabi libnewlib-arm-none-eabi)" >&2
  exit 1
fi
warnings='-Wall -Wextra -Wpedantic -Werror -Wconversion -Wshadow'
flags='-mcpu=cortex-m4 -mthumb -Os'
objects=$(mktemp -d)
trap 'rm -rf "$objects"' EXIT
"$compiler" --version | head -n 1
echo "$compiler -std=c99 $flags"
for file in rf_*.c; do
  "$compiler" -std=c99 $flags $warnings -c "$file" -o "$objects/${file%.c}.o"
done
(cd "$objects" && arm-none-eabi-size rf_*.o)
printf '#include "rf_sensor.h"\nchar one_sensor[sizeof(rf_sensor)];\n' > "$objects/sensor.c"
"$compiler" -std=c99 $flags -I. -c "$objects/sensor.c" -o "$objects/sensor.o"
echo "RAM of one rf_sensor: $(arm-none-eabi-size "$objects/sensor.o" | awk 'NR == 2 { print $3 }') bytes, without its ring"
