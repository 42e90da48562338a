#!/bin/sh
# The completions, each asked in its own shell: bash by the function that it
# would call, fish by `complete -C`, zsh by pressing Tab in a terminal of its
# own (zsh/zpty).

. "$(dirname "$0")/../app/lib.sh"
unset BARTER_CONFIG
cd "$work" || exit 1
DESTDIR=$work/root "$CMAKE" --install "$BUILD" --prefix /usr >log 2>&1
share=$work/root/usr/share
export PATH="$work/root/usr/bin:$PATH"
barter learner add ada >/dev/null || fail "barter does not run"
echo x >own-take.mid
mkdir own-folder
n_shells=0

# offers SHELL LINE WORD...: each word is among what is offered; !WORD is not
offers() {
  shell=$1
  line=$2
  shift 2
  ask_"$shell" "$line" >offered 2>said
  n_checked=$((n_checked + 1))
  for word; do
    case $word in
      !*) ! grep -qxF -e "${word#!}" offered ||
        fail "$shell offers ${word#!} after '$line'" ;;
      *) grep -qxF -e "$word" offered ||
        fail "$shell does not offer $word after '$line' but:" \
          "$(head -c 300 offered | tr '\n' ' ') $(head -n 2 said)" ;;
    esac
  done
}

try() {
  command -v "$1" >/dev/null || { echo "$1 is not installed: not asked"; return; }
  n_shells=$((n_shells + 1))
  offers "$1" 'barter tr' trade !open !hear
  offers "$1" 'barter ' open trade learner settings demo
  offers "$1" 'barter trade --ch' --chart --choruses !--key
  offers "$1" 'barter hear --w' !--wav
  offers "$1" 'barter answer --chart ' blues waltz one-chord !swing !Feels
  offers "$1" 'barter trade --feel s' swing shuffle straight !blues !Scales
  offers "$1" 'barter trade --learner a' ada
  offers "$1" 'barter trade --first p' player partner
  offers "$1" 'barter sheet --paper ' a4 letter
  offers "$1" 'barter trade --bars ' 1 2 4
  offers "$1" 'barter trade --out ' synth none own-take.mid
  offers "$1" 'barter hear own-' own-take.mid
  offers "$1" 'barter learner ex' export
}

cat >ask.bash <<'EOF'
. "$1"
line=$2
COMP_WORDS=($line)
[ "${line% }" = "$line" ] || COMP_WORDS+=("")
COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
_barter barter
printf '%s\n' "${COMPREPLY[@]}"
EOF
ask_bash() {
  bash --norc --noprofile ask.bash "$share/bash-completion/completions/barter" "$1"
}

ask_fish() {
  fish --no-config -c 'source $argv[1]; complete -C $argv[2]' \
    "$share/fish/vendor_completions.d/barter.fish" "$1" | cut -f1
}

# A line for each match, as they are added
cat >ask.zsh <<'EOF'
zmodload zsh/zpty
zpty shell zsh -f -i
zpty -w shell "PS1=; fpath=($1 \$fpath); autoload -Uz compinit; compinit -u -d $PWD/dump"
zpty -w shell 'compadd() { builtin compadd -O found "$@"; (( $#found )) && print -rl -- "<"${^found}">"; builtin compadd "$@"; }'
zpty -w shell "zstyle ':completion:*' list-prompt ''; LISTMAX=9999"
# Not before its editor reads keys: until then the terminal takes them, and its
# kill key takes back the line
zpty -w shell "zle-line-init() { print READ''Y }; zle -N zle-line-init"
zpty -m -r shell line '*READY*'
zpty -w -n shell "$2"$'\t'
zpty -w -n shell $'\x15print EN''D\n'
for i in {1..200}; do
  zpty -r -t shell line && print -r -- "$line" || sleep 0.05
  [[ $line == *END* ]] && break
done
zpty -d shell
EOF
ask_zsh() {
  folder=$(dirname "$(find "$share/zsh" -name _barter)")
  timeout 60 zsh -f ask.zsh "$folder" "$1" | tr -d '\r' | tr '\n' ' ' |
    grep -o '<[^<>]*>' | tr -d '<>' | sed 's/:.*//'
}

try bash
try fish
try zsh
[ $n_shells -gt 0 ] || skip "there is no bash, fish or zsh"
finish
