package quantity

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// editDistance returns the number of letters that have to be inserted, left out, changed
// or swapped with their neighbour to turn a into b, no letter being touched twice
// (Damerau and Levenshtein's optimal string alignment).
func editDistance(a, b string) int {
	s, t := []rune(a), []rune(b)
	before := make([]int, len(t)+1) // row i-2
	above := make([]int, len(t)+1)  // row i-1
	row := make([]int, len(t)+1)
	for j := range above {
		above[j] = j
	}
	for i := 1; i <= len(s); i++ {
		row[0] = i
		for j := 1; j <= len(t); j++ {
			change := 1
			if s[i-1] == t[j-1] {
				change = 0
			}
			row[j] = min(above[j]+1, row[j-1]+1, above[j-1]+change)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, above, row = above, row, before
	}
	return above[len(t)]
}

// near tells whether a distance is small enough for a guess at a word.
func near(distance int, word string) bool {
	return distance <= max(1, (utf8.RuneCountInString(word)+1)/3)
}

// ranked is a guess with its rank, smaller is better.
type ranked struct {
	rank int
	path string
}

// Nearest returns up to three paths that may have been meant by one that does not exist:
// first the keys of the same section that are spelt alike, then keys of other sections.
// A misspelt section is tolerated, and an old name leads to the present one.
func (s *Schema) Nearest(path string) []string {
	section, key := splitPath(strings.Map(func(c rune) rune {
		if c == '-' || c == ' ' {
			return '_'
		}
		return c
	}, path))
	section, key = SnakeCase(section), SnakeCase(key)
	best := make(map[string]int)
	offer := func(path string, rank int) {
		if old, ok := best[path]; !ok || rank < old {
			best[path] = rank
		}
	}
	compare := func(name, present string) {
		otherSection, otherKey := splitPath(name)
		keyDistance := editDistance(key, otherKey)
		if !near(keyDistance, key) {
			return
		}
		switch sectionDistance := editDistance(section, otherSection); {
		case sectionDistance == 0:
			offer(present, keyDistance)
		case near(sectionDistance, section):
			offer(present, 100+10*sectionDistance+keyDistance)
		case keyDistance <= 2:
			offer(present, 200+10*keyDistance+sectionDistance)
		}
	}
	for i := range s.fields {
		compare(s.fields[i].Path, s.fields[i].Path)
	}
	for old, i := range s.old {
		compare(old, s.fields[i].Path)
	}
	guesses := make([]ranked, 0, len(best))
	for path, rank := range best {
		guesses = append(guesses, ranked{rank, path})
	}
	return firstGuesses(guesses)
}

// NearestSection returns up to three sections whose names are close to name.
func (s *Schema) NearestSection(name string) []string {
	var guesses []ranked
	for _, section := range s.Sections() {
		if d := editDistance(strings.ToLower(name), section); near(d, name) {
			guesses = append(guesses, ranked{d, section})
		}
	}
	return firstGuesses(guesses)
}

func firstGuesses(guesses []ranked) []string {
	slices.SortFunc(guesses, func(a, b ranked) int {
		if a.rank != b.rank {
			return a.rank - b.rank
		}
		return strings.Compare(a.path, b.path)
	})
	paths := make([]string, 0, 3)
	for _, g := range guesses[:min(3, len(guesses))] {
		paths = append(paths, g.path)
	}
	return paths
}

// splitPath cuts a path into section and key at its last point.
func splitPath(path string) (section, key string) {
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		return path[:i], path[i+1:]
	}
	return "", path
}
