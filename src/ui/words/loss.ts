/** Said at the start wherever the app opens; the log tells the rest. */
export const LOSS_UNREAD = {
  missing: 'The log was lost, all or in part.',
  restored: 'The log was lost and has been put back.',
} as const
