package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

func (p *entryPanel) exampleLine() app.UI { return nil }
