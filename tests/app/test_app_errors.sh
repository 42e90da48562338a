#!/bin/sh
# Exit statuses and errors (design, section 5): 0 done, 1 a result that says no,
# 2 wrong use or bad input, 3 a device or system failure; every error one line.

. "$(dirname "$0")/lib.sh"
phrases 3 4 | take "$work/take.mid"
cd "$work" || exit 1

# Done
quiet --help
quiet --version
quiet help
cp "$out" help
quiet -h
same "-h is --help" help "$out"
quiet help help
same "help of help" help "$out"
quiet version
check "a version" grep -q '^barter [0-9]' "$out"
quiet sheet --help
cp "$out" help
quiet help sheet
same "help of a command" help "$out"
quiet sheet -h
same "-h of a command" help "$out"
quiet answer take.mid
quiet hear take.mid
quiet charts
quiet check "$BARTER_CONFIG/charts/blues.cfg"
quiet demo

# A result that says no
echo 'title = "Broken"' >broken.cfg
plain 1 check broken.cfg
plain 1 check "$BARTER_CONFIG/charts/blues.cfg" broken.cfg
check "it says of each" test "$(grep -c 'blues.cfg: good' "$out")" -eq 1
check "and where" grep -q '^broken.cfg:' "$out"

# Wrong use
plain 2
refused 2 'there is no command answr; did you mean answer' answr
refused 2 'barter --help lists them' quite-another
refused 2 'there is no command shet; did you mean sheet' help shet
refused 2 'answer takes one file' answer
refused 2 'answer takes one file' answer take.mid take.mid
refused 2 'hear takes one file' hear
refused 2 'hear takes one file' hear take.mid take.mid
refused 2 'check takes files' check
refused 2 'charts takes no file' charts blues
refused 2 'demo brings its own take' demo take.mid
refused 2 'no option --temo here; did you mean --tempo' answer take.mid --temo 90
refused 2 '--tempo needs a value' answer take.mid --tempo
refused 2 'there is no option --out here' hear take.mid --out a.mid
refused 2 'there is no option --chart here' check --chart blues

# Bad values
refused 2 '--tempo 20 is not a number from 30 to 320' answer take.mid --tempo 20
refused 2 '--bars 3 is not 1, 2 or 4' answer take.mid --bars 3
refused 2 '--choruses 0' answer take.mid --choruses 0
refused 2 '--first me is neither' answer take.mid --first me
refused 2 '--seed x is not a whole number' answer take.mid --seed x
refused 2 '--rung 9 is not understood; write 1 to 8 for all' answer take.mid --rung 9
refused 2 '--rung notes=9 is not understood' answer take.mid --rung notes=9
refused 2 '--key H: no note is called so here' answer take.mid --key H
refused 2 'the chart is in major and stays so' answer take.mid --key 'C minor'
refused 2 'note that is to be home' answer take.mid --key 'A minor'
refused 2 'no track 9; there are 2' answer take.mid --track 9
refused 2 'no chart "bleus"; the nearest is blues' answer take.mid --chart bleus
refused 2 'no feel "swng"; the nearest is swing' answer take.mid --feel swng
refused 2 'the feel waltz is not for 4/4' answer take.mid --feel waltz

# A name that says something else than what is written, before anything is
refused 2 '^barter: --wav ada.pdf: it is to hold sound' answer take.mid --wav ada.pdf
refused 2 '^barter: --out x.wav: it is to hold MIDI' answer take.mid --out x.wav
refused 2 '^barter: --out x.MID.wav: it is to hold MIDI' answer take.mid --out x.MID.wav
refused 2 '^barter: --report r.xml: it is to hold a report' answer take.mid --report r.xml
refused 2 '^barter: --musicxml n.mxl: .* unpacked' answer take.mid --musicxml n.mxl
refused 2 '^barter: --out x.mid: it is to be a folder' ideas take.mid --out x.mid
refused 2 '^barter: --out w.xml: it is to hold MIDI' warmup --out w.xml
quiet learner add csv
refused 2 '^barter: export e.csv: it is to hold all there is' learner export csv e.csv
refused 2 '^barter: export e.json: it is to hold a table' learner export csv e.json --csv
check "nothing was written" test ! -e ada.pdf -a ! -e x.wav -a ! -e r.xml -a ! -e w.xml
quiet answer take.mid --out 'a file.of mine'

# Bad files
refused 2 'nowhere.mid: there is no such file' answer nowhere.mid
refused 2 'nowhere.mid: there is no such file' hear nowhere.mid
refused 2 'nowhere.cfg: there is no such file' answer take.mid --chart nowhere.cfg
refused 2 'take.txt: byte 0' answer "$(echo 'no MIDI' >take.txt && echo take.txt)"
printf 'title = "T";\nmeter = "4/4";\nkey = "C major";\nscale = "by chord";\nbars = [ "I7", "H7" ];\n' >chart.cfg
refused 2 'chart.cfg:5: ' answer take.mid --chart ./chart.cfg
printf 'tempo = 900;\n' >barter.cfg
mkdir -p "$XDG_CONFIG_HOME/barter"
cp barter.cfg "$XDG_CONFIG_HOME/barter/barter.cfg"
refused 2 'barter.cfg:1: tempo 900 is outside' answer take.mid
rm "$XDG_CONFIG_HOME/barter/barter.cfg"

# The system says no
refused 3 'no/such/a.mid: ' answer take.mid --out no/such/a.mid
refused 3 'no/such/a.json: ' answer take.mid --report no/such/a.json
refused 3 'no/such/a.wav: ' answer take.mid --wav no/such/a.wav
check "before anything is told" test ! -s "$out"
mkdir folder folder.mid folder.json
refused 3 'folder: ' answer take.mid --out folder
check "it is still there" test -d folder

# What one file refuses, the others still get
plain 3 answer take.mid --report folder.json --out kept.mid
check "the recording is kept" test -s kept.mid
plain 3 answer take.mid --out folder.mid --report kept.json
check "the report is kept" is_json kept.json

# What stood there stays if the new one cannot be made
cp kept.mid before.mid
refused 2 'no chart' answer take.mid --chart none --out kept.mid
same "a recording that was not replaced" before.mid kept.mid

# A full disk; by a link, so that only the link is in danger
if [ -c /dev/full ]; then
  for option in --out --report --wav; do
    ln -sf /dev/full full
    plain 3 answer take.mid --choruses 1 $option full
    check "$option leaves a link a link" test -L full
    check "$option says why" grep -q "full: cannot be written: No space" "$err"
  done
  check "the device is one still" test -c /dev/full
  for words in 'answer take.mid' 'answer take.mid --report -' 'hear take.mid' \
    charts --help "check $BARTER_CONFIG/charts/blues.cfg" demo; do
    n_checked=$((n_checked + 1))
    # shellcheck disable=SC2086 # words
    "$BARTER" $words >/dev/full 2>"$err"
    [ $? -eq 3 ] || fail "a full disk behind: $words"
    check "it says so: $words" grep -q '^barter: .*standard output' "$err"
  done
fi

# Help: short, and with every option that the command takes (design, section 5)
helps() {
  command=$1
  shift
  quiet "$command" --help || return
  check "$command --help is short" test "$(wc -l <"$out")" -le 28
  check "$command --help is narrow" test "$(wc -L <"$out")" -le 80
  check "$command says what it is" grep -q "^Use: barter $command" "$out"
  for name in "$@" help; do
    check "$command --help has --$name" grep -q -- "^  --$name " "$out"
  done
}
helps answer chart key tempo feel bars choruses first rung seed track lead-in \
  make-room out wav soundfont report musicxml replay
helps hear chart key tempo feel bars track lead-in report
helps charts
helps check
helps demo seed out wav soundfont report

refused 2 'no MIDI system "foo" here; alsa' trade --midi foo --out none
refused 2 'no MIDI system "foo" here; alsa' ports --midi foo

finish
