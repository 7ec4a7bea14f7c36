import './trusted-types.ts'
import { signal } from '@preact/signals'
import { render } from 'preact'
import { App } from './app.tsx'
import { createKitModel } from './session/kit/kit-model.ts'
import { createSafetyModel } from './session/safety/safety-model.ts'
import { type Services, ServicesProvider } from './session/services.ts'
import { startOfflineUse } from './sources/app-update.ts'
import { startLook } from './ui/look.ts'
import { address, go, startRouter } from './ui/router.ts'
import { startSettings } from './ui/settings.ts'
import { say } from './ui/spoken.tsx'
import { keepStrayDrops } from './ui/stray-drops.ts'
import { LOSS_UNREAD } from './ui/words/loss.ts'
import './ui/style/tokens.css'
import './ui/style/base.css'
import './ui/style/controls.css'
import './ui/style/layout.css'
import './ui/style/pieces.css'
import './ui/style/dark-shop.css'
import './ui/style/print.css'

startLook()
startSettings()
startRouter()
keepStrayDrops()
const logBlocked = signal(false)
const log = import('./log/open-log.ts').then(({ openLog }) =>
  openLog({
    onBlocked: () => {
      logBlocked.value = true
    },
  }),
)
log
  .then(async (opened) => {
    // The log's own screens tell it whole, until it is read; whoever opens another one is led there.
    const loss = opened.lossUnread()
    if (loss && address.peek().place !== 'log')
      say(LOSS_UNREAD[loss], { label: 'See', run: () => go('log') })
    // Chosen once, it is written whatever screen is open: see BACKUP_FILE_FLAG.
    if (localStorage.getItem('glowbook.backup-file')) {
      ;(await import('./session/log/backup-file.ts')).backupFile(log)
    }
  })
  // Screens that need the log say why it is missing; here it must only not count as unhandled.
  .catch(() => undefined)
const now = () => new Date()
const services: Services = {
  log,
  logBlocked,
  kit: createKitModel(log),
  safety: createSafetyModel(log, now),
  now,
}

const root = document.getElementById('app')
if (root) {
  render(
    <ServicesProvider value={services}>
      <App />
    </ServicesProvider>,
    root,
  )
}
void startOfflineUse()
