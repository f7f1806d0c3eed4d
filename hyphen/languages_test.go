package hyphen

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Words as dictionaries and school rules of the languages divide them (from memory), as far as the minima allow. Each
// shows a rule that the language is known for.
func TestKnownWords(t *testing.T) {
	for tag, words := range map[string]string{
		"en-US": "al-go-rithm pneu-mo-nia be-ing",
		"en-GB": "uni-ver-sity how-ever ma-nu-script daugh-ters con-sid-er-able",
		// reform of 1996: ck stays together, st is parted, three like consonants
		"de": "Sil-ben-tren-nung Stra-ßen-bahn Zu-cker ba-cken Fens-ter Haus-tür Recht-schrei-bung Wör-ter-buch " +
			"Do-nau-dampf-schiff-fahrts-ge-sell-schaft Uni-ver-si-tät",
		// no break before a mute ending of two letters with the vowel in it, gn stays together
		"fr": "or-di-na-teur ty-po-gra-phie mon-tagne cha-pitre bi-blio-thèque syl-labe",
		// rr, ll and ch are one letter, a stop and r or l stay together
		"es": "ca-rro pe-rro gui-ta-rra fe-rro-ca-rril li-bro pue-blo ac-ción abs-trac-to mur-cié-la-go",
		// s goes with what follows, cq is parted
		"it": "pa-sta stra-nie-ro scuo-la al-be-ro mat-ti-na ac-qua soq-qua-dro ba-gno co-sti-tu-zio-ne",
		// rr and ss are parted, lh and nh are not
		"pt-PT": "pas-sar gui-tarra fo-lha ni-nho por-tu-guês cons-ti-tui-ção",
		"pt-BR": "pas-sar gui-tarra fo-lha ni-nho por-tu-guês cons-ti-tui-ção",
		// compounds are parted where they join
		"nl": "let-ter-greep boek-han-del aard-ap-pel woor-den-boek schrij-ver Ne-der-land uni-ver-si-teit",
		"sv": "av-stav-ning ord-bok bok-stä-ver järn-väg tid-ning flic-ka uni-ver-si-tet",
		// sz, cz, rz are one sound; prefixes stay whole
		"pl": "książ-ka gwiaz-da War-sza-wa oj-czy-zna mat-ka prze-no-sze-nie szczę-ście uni-wer-sy-tet",
	} {
		d := load(t, tag)
		for want := range strings.FieldsSeq(words) {
			if got := hyphenated(d, strings.ReplaceAll(want, "-", "")); got != want {
				t.Errorf("%s: got %s, want %s", tag, got, want)
			}
		}
	}
}

// The minima of the collection of patterns that the files come from.
func TestLanguageMins(t *testing.T) {
	for _, tag := range Languages() {
		want := [2]int{2, 2}
		if slices.Contains([]string{"en-US", "en-GB", "pt-PT", "pt-BR"}, tag) {
			want = [2]int{2, 3}
		}
		before, after := load(t, tag).Mins()
		if got := [2]int{before, after}; got != want {
			t.Errorf("%s: got %v, want %v", tag, got, want)
		}
	}
}

func TestLanguages(t *testing.T) {
	want := []string{"de", "en-GB", "en-US", "es", "fr", "it", "nl", "pl", "pt-BR", "pt-PT", "sv"}
	if diff := cmp.Diff(want, Languages()); diff != "" {
		t.Error(diff)
	}
}

func TestLoadNearest(t *testing.T) {
	for tag, want := range map[string]string{
		"en-US": "en-US", "en": "en-US", "EN-us": "en-US", "en_GB": "en-GB", "en-GB-oxendict": "en-GB",
		"en-Latn-GB": "en-GB", "en-AU": "en-GB", "en-NZ": "en-GB", "en-CA": "en-US", "en-Latn": "en-US",
		"de": "de", "de-AT": "de", "de-CH-1996": "de", "fr-CA": "fr", "es-419": "es", "nl-BE": "nl", "sv-FI": "sv",
		"pt": "pt-PT", "pt-PT": "pt-PT", "pt-BR": "pt-BR", "pt-AO": "pt-PT", "pt-Latn-BR": "pt-BR",
	} {
		d, err := Load(tag)
		if err != nil {
			t.Error(err)
		} else if d.Tag() != want {
			t.Errorf("%s: got %s, want %s", tag, d.Tag(), want)
		}
	}
}

func TestLoadUnknown(t *testing.T) {
	for _, tag := range []string{"", "tlh", "english", "x-en-US", "e", "-", "de\x00"} {
		_, err := Load(tag)
		if err == nil || !strings.HasSuffix(err.Error(), "there are de, en-GB, en-US, es, fr, it, nl, pl, pt-BR, pt-PT, sv") {
			t.Errorf("%q: got %v", tag, err)
		}
		if _, err := Licence(tag); err == nil {
			t.Errorf("%q has a licence", tag)
		}
	}
}

// Each file of patterns says where it comes from and has its licence beside it; where the licence is one that is known
// by its name, with the full text.
func TestLicences(t *testing.T) {
	phrases := map[string]string{
		"en-US": "Unlimited copying and redistribution of this file are permitted",
		"en-GB": "Unlimited copying and redistribution of this file",
		"nl":    "name: LPPL", "sv": "name: LPPL",
		"pt-BR": "Redistribution and use in source and binary forms", "pt-PT": "Redistribution and use in source and binary forms",
	}
	for _, tag := range Languages() {
		phrase := phrases[tag]
		if phrase == "" {
			phrase = "Permission is hereby granted, free of charge"
		}
		text, err := Licence(tag)
		if err != nil {
			t.Error(err)
		}
		if !strings.Contains(text, phrase) {
			t.Errorf("%s: the licence lacks %q", tag, phrase)
		}
		_, file, _ := match(tag)
		patterns, err := data.ReadFile("data/" + file + ".txt")
		if err != nil {
			t.Fatal(err)
		}
		header, _, _ := strings.Cut(string(patterns), ":minima")
		for _, want := range []string{"# Origin: ", "# Authors: ", "# Copyright: ", "# Licence: "} {
			if !strings.Contains(header, want) {
				t.Errorf("%s: the header lacks %q", tag, want)
			}
		}
		if strings.Contains(phrase, "LPPL") {
			full, err := data.ReadFile("data/LPPL-1.3c.txt")
			if err != nil || !strings.Contains(string(full), "LPPL Version 1.3c") || !strings.Contains(text, string(full)) {
				t.Errorf("%s: the full text of the licence is missing (%v)", tag, err)
			}
		}
	}
}

// Every file in data is used.
func TestShelf(t *testing.T) {
	entries, err := data.ReadDir("data")
	if err != nil {
		t.Fatal(err)
	}
	var files, want []string
	for _, e := range entries {
		files = append(files, e.Name())
	}
	for _, l := range shelf {
		want = append(want, l.file+".txt", l.file+".licence.txt")
	}
	want = append(want, "LPPL-1.3c.txt")
	slices.Sort(want)
	if diff := cmp.Diff(slices.Compact(want), files); diff != "" {
		t.Error(diff)
	}
}
