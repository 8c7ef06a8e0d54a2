package live

import (
	"context"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"time"
)

// Snapshot is the state of the files that a report is made from.
type Snapshot map[string]stamp

type stamp struct {
	size    int64
	changed time.Time
}

// watchedTypes are the files that may be behind a report, by extension.
var watchedTypes = []string{".md", ".xlsx", ".csv", ".json", ".png", ".jpg", ".jpeg", ".gif", ".webp", ".svg"}

// Look takes a snapshot of a campaign's folder. Hidden files and what spreadsheet
// programs leave beside an open workbook do not count.
func Look(files fs.FS) Snapshot {
	s := Snapshot{}
	_ = fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		base := path.Base(name)
		switch {
		case err != nil:
			return nil // it went away while we looked
		case name != "." && (strings.HasPrefix(base, ".") || strings.HasPrefix(base, "~$")):
			if d.IsDir() {
				return fs.SkipDir
			}
		case !d.IsDir() && slices.Contains(watchedTypes, strings.ToLower(path.Ext(base))):
			if info, err := d.Info(); err == nil {
				s[name] = stamp{info.Size(), info.ModTime()}
			}
		}
		return nil
	})
	return s
}

// Since names the files that are new, gone or other than in an earlier snapshot,
// in order.
func (s Snapshot) Since(before Snapshot) []string {
	var names []string
	for name, now := range s {
		if then, ok := before[name]; !ok || then.size != now.size || !then.changed.Equal(now.changed) {
			names = append(names, name)
		}
	}
	for name := range maps.Keys(before) {
		if _, ok := s[name]; !ok {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// Watch looks at the files again and again, from the snapshot that was built
// last, and calls build with what changed once the files have been at rest for one
// interval: a program may still be writing them. It returns when the context
// ends.
func Watch(ctx context.Context, files fs.FS, built Snapshot, interval time.Duration, build func(changed []string)) {
	tick := time.NewTicker(interval)
	defer tick.Stop()
	last := built
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		now := Look(files)
		atRest := len(now.Since(last)) == 0
		last = now
		if changed := now.Since(built); atRest && len(changed) > 0 {
			built = now
			build(changed)
		}
	}
}
