#!/bin/sh
# How loud the parts are, measured by libebur128 as EBU R 128 has it: the two
# who talk alike, the band below them, the whole at -18 LUFS, no true peak over
# -1 dB; with the small sound font and with the larger one.

. "$(dirname "$0")/lib.sh"
small=/usr/share/sounds/sf2/TimGM6mb.sf2
large=/usr/share/sounds/sf3/MuseScore_General.sf3
[ -r "$small" ] || skip "there is no $small (package timgm6mb-soundfont)"
cd "$work" || exit 1
cp "$BARTER_CONFIG/demo.mid" take.mid

# stem NAME PARTS...: the conversation with these parts alone
stem() {
  name=$1
  shift
  mkdir -p "$name/barter"
  awk -v parts=" $* " '$2 == "=" && /level = / && index(parts, " " $1 " ") == 0 {
      sub(/level = [0-9]+/, "level = 0") }
    { print }' "$BARTER_CONFIG/barter.cfg" >"$name/barter/barter.cfg"
  XDG_CONFIG_HOME=$work/$name quiet answer take.mid --wav "$name.wav" \
    --soundfont "$font"
}

# between NUMBER LEAST MOST
between() {
  awk -v n="$1" -v least="$2" -v most="$3" \
    'BEGIN { exit !(n >= least && n <= most) }'
}

# lufs NAME, peak NAME
lufs() { "$LOUDNESS" "$1.wav" | cut -d' ' -f1; }
peak() { "$LOUDNESS" "$1.wav" | cut -d' ' -f2; }

mean() { awk -v a="$1" -v b="$2" 'BEGIN { print (a + b) / 2 }'; }
less() { awk -v a="$1" -v b="$2" 'BEGIN { print a - b }'; }

# whole: the two who talk with their band
whole() {
  stem all player partner chords bass drums
  level=$(lufs all)
  check "the whole: $level LUFS" between "$level" -19 -17
  check "its true peak: $(peak all) dB" between "$(peak all)" -12 -1
}

font=$small
whole
stem player player
stem partner partner
stem band chords bass drums
apart=$(less "$(lufs player)" "$(lufs partner)")
below=$(less "$(mean "$(lufs player)" "$(lufs partner)")" "$(lufs band)")
check "the soloists: $apart LU apart" between "$apart" -1.5 1.5
check "the band: $below LU below" between "$below" 3 6

font=$large
if [ -r "$font" ]; then
  whole
else
  echo "there is no $font: not heard with it"
fi

finish
