#!/bin/sh
# Takes and charts that nobody plays: each is answered or refused, within
# bounds, and what is answered makes a recording that replays.

. "$(dirname "$0")/lib.sh"
seconds=20
phrases 3 4 | take "$work/take.mid"
cd "$work" || exit 1

# No takes at all
mkdir folder
: >empty.mid
dd if=/dev/zero of=large.mid bs=1 count=1 seek=73400319 2>/dev/null # 70 MiB
mkfifo pipe.mid
for command in answer hear; do
  refused 2 'folder: is a directory' $command folder
  refused 2 'is no plain file' $command /dev/zero
  refused 2 'is no plain file' $command pipe.mid
  refused 2 'empty.mid: is empty' $command empty.mid
  refused 2 'large.mid: has 73400320 bytes' $command large.mid
  refused 2 'take.cfg' $command take.cfg
  refused 2 'a?b.mid: there is no such file' $command 'a
b.mid'
done
refused 2 'has a line break in it' answer take.mid --chart 'a
b'
refused 2 'has a line break in it' answer take.mid --feel 'a
b.cfg'
long=$(printf '%01100d' 0)
refused 2 '--chart is too long; it may have 1023 bytes' answer take.mid --chart "$long.cfg"

# What was played is not written over, nor one result by another
cp take.mid kept.mid
ln take.mid link.mid
refused 2 'take the place of what was played' answer take.mid --out ./take.mid
refused 2 'take the place of what was played' answer take.mid --wav link.mid
refused 2 'take the place of what was played' hear take.mid --report take.mid
refused 2 'name one file' answer take.mid --out new.mid --report new.mid
plain 0 answer take.mid --out one.mid
refused 2 'take the place of what was played' \
  answer --replay one.mid --out one.mid
same "the take" take.mid kept.mid

# A recording that was cut off says so
dd if=one.mid of=cut.mid bs=2200 count=1 2>/dev/null
warned 'cut.mid: byte .* the header announces' answer --replay cut.mid --out two.mid

# replays WORDS...: answered, and the same again by its recording
replays() {
  plain 0 answer "$@" --out one.mid || return
  plain 0 answer --replay one.mid --out two.mid || return
  same "replay of $*" one.mid two.mid
}

# Tempos
for tempo in 30 320; do
  replays take.mid --tempo $tempo
  replays take.mid --tempo $tempo --bars 1 --rung 8
done
for us in 1 16777215; do
  printf 'track\ntempo 0 %d\nnote 0 480 60 80 0\nnote 9000 480 62 80 0\n' $us |
    take tempo.mid
  warned 'its tempo of .* is outside 20..400' answer tempo.mid
  replays tempo.mid
  quiet answer tempo.mid --tempo 100
  warned 'is outside 20..400' hear tempo.mid
done

# chart NAME METER BARS...: a chart file
chart() {
  file=$1 meter=$2
  shift 2
  {
    printf 'title = "Odd";\nmeter = "%s";\nkey = "C major";\n' "$meter"
    printf 'scale = "by chord";\nbars = [\n'
    comma=
    for bar; do
      printf '%s"%s"\n' "$comma" "$bar"
      comma=,
    done
    printf '];\n'
  } >"$file"
}
# copies N WORD: that word so often
copies() {
  awk -v n="$1" -v word="$2" 'BEGIN { while (n--) print word }'
}

# Forms
chart one.cfg 4/4 C7
chart three.cfg 4/4 C7 F7 G7
chart none.cfg 4/4 N.C. N.C.
chart some.cfg 4/4 N.C. 'C7 N.C.' N.C. G7
chart crowded.cfg 4/4 'C7 F7 G7 C7' 'Dm7 / G7 Am7'
for form in one three none some crowded; do
  for bars in 1 4; do
    replays take.mid --chart ./$form.cfg --bars $bars
    replays take.mid --chart ./$form.cfg --bars $bars --make-room
  done
  replays take.mid --chart ./$form.cfg --first partner --bars 2 --rung 8
done
for meter in 2/4 5/4; do
  chart meter.cfg $meter I7 IV7 V7 I7
  replays take.mid --chart ./meter.cfg --feel swing --bars 2
done
for meter in 6/8 12/8; do
  chart meter.cfg $meter I7 IV7 V7 I7
  replays take.mid --chart ./meter.cfg --feel slow12 --bars 2
done

# Long forms: 256 bars leave room for as many again, 257 do not
# shellcheck disable=SC2046 # words
{
  chart b256.cfg 4/4 $(copies 128 I7) $(copies 128 V7)
  chart b257.cfg 4/4 $(copies 128 I7) $(copies 129 V7)
  chart b512.cfg 4/4 $(copies 256 I7) $(copies 256 IV7)
  chart b513.cfg 4/4 $(copies 513 I7)
}
replays take.mid --chart ./b256.cfg --make-room
refused 2 'too long to make room in; it may have 256 bars' \
  answer take.mid --chart ./b257.cfg --make-room
quiet answer take.mid --chart ./b512.cfg --choruses 2 --out one.mid
refused 2 '513 values; 1 to 512' answer take.mid --chart ./b513.cfg
quiet answer take.mid --chart ./three.cfg --choruses 99 --bars 1

# Notes at the ends of time
printf 'division 96\ntrack\nnote 0 480 60 80 0\nnote 1099511627776 480 62 80 0\n' |
  take far.mid
warned 'its last 1 note, after bar 1189, is left out' answer far.mid
warned 'its last 1 note, after bar 1188, is left out' hear far.mid
printf 'track\nnote 0 900 60 80 0\nnote 3840 900 62 80 0\nnote 80000 900 64 80 0\n' |
  take before.mid
replays before.mid --lead-in 64 # 61440 ticks: but for one before bar 1
replays take.mid --lead-in 64

# Longer than its form, than 99 of them
replays take.mid --chart ./one.cfg --bars 1
phrases 40 4 | take long.mid
warned 'its last [0-9]* notes, after bar 100, are left out' \
  answer long.mid --chart ./one.cfg
warned 'its last [0-9]* notes, after bar 13, are left out' \
  answer long.mid --choruses 1
quiet answer long.mid

# Keys struck again while they are down, on one track and on two
awk 'BEGIN { for (t = 0; t < 2; ++t) { print "track"
  for (i = 0; i < 64; ++i) print "note", i * 240, 1000, 60 + i % 3, 30 + i, t } }' |
  take overlap.mid
replays overlap.mid
replays overlap.mid --make-room --bars 1 --rung 8

# As dense as a file can be: a note every 2 ms, whole clusters, all pitches
awk 'BEGIN { print "track"
  for (i = 0; i < 12000; ++i) print "note", i * 4, 3, i * 7 % 128, 1 + i % 127, 0
  for (i = 0; i < 128; ++i) print "note", 50000, 960, i, 80, 0 }' | take dense.mid
replays dense.mid
replays dense.mid --rung 8 --bars 4 --make-room
plain 0 hear dense.mid --report report.json
check "a report of it" is_json report.json

# Nothing to hear: it is said, and the partner goes on
awk 'BEGIN { print "track"; for (i = 0; i < 64; ++i)
  print "control", i * 480, 0, 64, 127 * (i % 2) }' | take pedal.mid
warned 'pedal.mid: there is no note to hear' answer pedal.mid
warned 'pedal.mid: there is no note to hear' hear pedal.mid
head -c 40 take.mid >cut.mid
warned 'cut.mid: there is no note to hear; the file is damaged' hear cut.mid
warned 'cut.mid: there is no note to hear; the file is damaged' answer cut.mid
awk 'BEGIN { print "track drums"; for (i = 0; i < 64; ++i)
  print "note", i * 480, 100, 36 + i % 3, 80, 9 }' | take drums.mid
warned 'there is no note to hear; --track says which' answer drums.mid
quiet answer drums.mid --track drums
printf 'track\n' | take nothing.mid
warned 'there is no note to hear' answer nothing.mid
replays nothing.mid

finish
