# What the tests of notation share: takes in every meter, answered.

# play METER_BAR METER_BEAT SEED: a take of four turns of two bars
play() {
  awk -v bar="$1" -v beat="$2" -v seed="$3" '
    function strike(at, length_, pitch) {
      print "note", int(at), int(length_), pitch, 70, 0
    }
    BEGIN {
      srand(seed)
      n = split(beat == 960 ? "-|0|0 6|6|0 4 8|0 8|4 8|0 6 9|0 3 6 9" \
                            : "-|0|0 4 8|0 8|4 8|0 4 6 8|0 6", places, "|")
      n_pitches = split("60 62 63 65 66 67 69 70 72 74", pitches, " ")
      print "track"; print "tempo 0 600000"; print "track player"
      for (turn = 0; turn < 4; ++turn)
        for (i = 0; i * beat < 2 * bar - beat; ++i) {
          at = turn * 4 * bar + i * beat
          count = split(places[1 + int(rand() * n)], place, " ")
          for (k = 1; k <= count && place[1] != "-"; ++k) {
            pitch = pitches[1 + int(rand() * n_pitches)]
            on = at + place[k] * beat / 12 + int(rand() * 12)
            if (place[k] == 0 && at > 0 && rand() < 0.15)
              strike(on - 85, 80, pitch - 1)
            strike(on, beat / 12 * (1 + rand() * 6), pitch)
          }
          if (rand() < 0.2)
            for (pitch = 43; pitch < 54; pitch += 5)
              strike(at + int(rand() * 9), beat * 0.8, pitch)
        }
    }'
}

# chart TITLE METER KEY BAR...: a chart on standard output
chart() {
  printf 'title = "%s";\nmeter = "%s";\nkey = "%s";\nscale = "by chord";\n' \
    "$1" "$2" "$3"
  shift 3
  printf 'bars = ["%s"' "$1"
  shift
  printf ', "%s"' "$@"
  printf '];\n'
}

# conversations: NAME.musicxml and NAME.json for every meter, in keys with
# sharps and flats, major and minor; prints their names
conversations() {
  seed=1
  while read -r name meter bar beat feel key; do
    chart "In $meter" "$meter" "$key" I7 IV7 'ii7 V7b9' I6 VI7 ii7 V7alt I7 \
      >"$name.cfg"
    play "$bar" "$beat" $seed | take "$name.mid"
    quiet answer "$name.mid" --chart "$name.cfg" --feel "$feel" --bars 2 \
      --rung 7 --seed $seed --musicxml "$name.musicxml" --report "$name.json"
    seed=$((seed + 1))
  done <<END
two 2/4 1920 960 straight Bb major
three 3/4 2880 960 waltz E major
four 4/4 3840 960 swing C# minor
five 5/4 4800 960 straight Db major
six 6/8 2880 1440 straight F minor
twelve 12/8 5760 1440 slow12 B minor
END
  names='two three four five six twelve'
}
