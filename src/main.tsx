import { render } from 'preact'
import { startOfflineUse } from './sources/app-update.ts'

const screens = ['Reading', 'Chart', 'Log', 'Kit', 'Safety']

function Screens() {
  return (
    <main>
      <h1>Glowbook</h1>
      <nav aria-label="Screens">
        {screens.map((name) => (
          <a key={name} href={name === 'Reading' ? '/' : `/${name.toLowerCase()}`}>
            {name}
          </a>
        ))}
      </nav>
    </main>
  )
}

const root = document.getElementById('app')
if (root !== null) render(<Screens />, root)

startOfflineUse()
