#!/bin/sh
# Makes phrases/NAME.wav of every line of phrases.txt: IMA ADPCM, one channel,
# 22 050 Hz. The same synthesiser and packer give the same bytes.
# Needs espeak-ng and sox (Debian: apt-get install espeak-ng sox).
set -eu
cd "$(dirname "$0")"
for tool in espeak-ng sox; do
	command -v "$tool" >/dev/null || { echo "$tool is missing: apt-get install espeak-ng sox" >&2; exit 1; }
done
made=$(mktemp -d)
trap 'rm -rf "$made"' EXIT
mkdir "$made/phrases"
sed -n 's/^\([a-z0-9-]*\) = /\1	/p' phrases.txt | while IFS='	' read -r name text; do
	espeak-ng -v en-gb -s 160 -p 42 -g 0 -w "$made/raw.wav" -- "$text" </dev/null
	# Silence is cut at both ends; the loudness is levelled when it is played.
	sox -D "$made/raw.wav" -c 1 -r 22050 -e ima-adpcm "$made/phrases/$name.wav" \
		gain -n -3 silence 1 0.005 0.3% reverse silence 1 0.005 0.3% reverse
done
rm -rf phrases
mv "$made/phrases" phrases
du -sh phrases
