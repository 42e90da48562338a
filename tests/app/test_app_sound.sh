#!/bin/sh
# What is written can be played: FluidSynth's own player (Debian package
# fluidsynth) renders it without a warning, and --wav is a sound file as the
# RIFF WAVE format has it (IBM & Microsoft 1991, "Multimedia Programming
# Interface and Data Specifications 1.0").

. "$(dirname "$0")/lib.sh"
font=/usr/share/sounds/sf2/TimGM6mb.sf2
[ -r "$font" ] || skip "there is no $font (package timgm6mb-soundfont)"
phrases 2 2 | take "$work/take.mid"
cd "$work" || exit 1

quiet answer take.mid --chart modal-vamp --bars 2 --choruses 1 --out a.mid \
  --wav a.wav
if command -v fluidsynth >/dev/null; then
  "$BOUNDED" 60 400 "$(command -v fluidsynth)" -ni -F other.wav "$font" a.mid \
    >fluidsynth.txt 2>&1
  check "fluidsynth plays it" test $? -eq 0
  check "without a warning" test "$(grep -ciE 'warning|error|panic' fluidsynth.txt)" -eq 0
else
  echo "fluidsynth is not installed: not played by it"
fi

# Bytes of the file, as od shows them
bytes() {
  od -An -v -t "$1" -j "$2" -N "$3" a.wav | tr -s ' ' | sed 's/^ //; s/ $//'
}
size=$(wc -c <a.wav)
check "RIFF" test "$(dd if=a.wav bs=4 count=1 2>/dev/null)" = RIFF
check "WAVE" test "$(dd if=a.wav bs=4 count=1 skip=2 2>/dev/null)" = WAVE
check "its size" test "$(bytes u4 4 4)" -eq $((size - 8))
check "PCM, two channels" test "$(bytes u2 20 4)" = "1 2"
check "44,100 a second" test "$(bytes u4 24 4)" -eq 44100
check "16 bits" test "$(bytes u2 34 2)" -eq 16
check "the size of its sound" test "$(bytes u4 40 4)" -eq $((size - 44))

# Count-in, eight bars, closing bar at 120: 20 s, and what rings on
seconds_of_sound=$(((size - 44) / 4 / 44100))
check "as long as the conversation" test $seconds_of_sound -ge 18
check "and no longer" test $seconds_of_sound -le 22

# Loud enough to be heard, never at full scale; each second of the playing
# sounds
od -An -v -t d2 -w4 -j44 a.wav | awk '
  { a = $1 < 0 ? -$1 : $1; b = $2 < 0 ? -$2 : $2; level = a > b ? a : b
    if (level > peak) peak = level
    s = int((NR - 1) / 44100); if (level > loudest[s]) loudest[s] = level }
  END { quiet = 0
    for (s = 0; s < 18; ++s) if (loudest[s] < 300) quiet++
    print peak, quiet }' >levels
read -r peak n_quiet <levels
check "a peak of $peak is heard" test "$peak" -gt 6000
check "a peak of $peak is not cut" test "$peak" -lt 32767
check "$n_quiet seconds are silent" test "$n_quiet" -eq 0

if command -v sox >/dev/null; then
  check "sox reads it" sox a.wav -n stat 2>stat.txt
  check "sox has nothing to say" test "$(grep -c 'WARN' stat.txt)" -eq 0
fi

# The same conversation gives the same sound
quiet answer --replay a.mid --wav b.wav
same "its sound" a.wav b.wav

refused 2 'nosuch.sf2' answer take.mid --wav c.wav --soundfont nosuch.sf2
refused 2 'take.mid' answer take.mid --wav c.wav --soundfont take.mid
check "before anything is told" test ! -s "$out"
check "nothing is left of it" test ! -e c.wav

finish
