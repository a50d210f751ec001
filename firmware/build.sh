#!/bin/sh
# Builds the program: firmware/build.sh [FOLDER]; needs gcc-avr and avr-libc. Loads nothing.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
out=${1:-"$here/build"}
mkdir -p "$out"
avr-g++ -std=c++11 -mmcu=atmega328p -DF_CPU=16000000UL -Os -Wall -Wextra -Werror \
  -ffunction-sections -fdata-sections -fno-exceptions -Wl,--gc-sections "$here/device.cpp" -o "$out/device.elf"
avr-objcopy -O ihex -R .eeprom "$out/device.elf" "$out/device.hex"
avr-size "$out/device.elf"
