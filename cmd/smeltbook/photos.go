package main

import (
	"os"

	"smeltbook/assay"
	"smeltbook/assay/photo"
	"smeltbook/assay/source"
)

// photoNotices opens the photographs of a campaign: which cannot be shown, and
// which tell where they were taken.
func photoNotices(c *assay.Campaign) (ns source.Notices) {
	for _, p := range c.Photographs {
		data, err := photo.Read(os.DirFS(c.Dir), p.File)
		var info photo.Info
		if err == nil {
			info, err = photo.Inspect(data)
		}
		switch {
		case err != nil:
			ns.Add(source.Warning, "PHOTOGRAPH", source.Cell{File: p.File}, "the photograph cannot be shown: %v", err)
		case info.Located:
			ns.Add(source.Warning, "PHOTO_PLACE", source.Cell{File: p.File}, "the photograph tells where it was taken; report and deposit leave that out, but whoever gets this file can read it")
		}
	}
	return ns
}
