import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import {
  FRAME_POLICY,
  FRAME_SCRIPT,
  FRAME_SCRIPT_SHA256,
  PREVIEW_FRAME,
} from '../../../src/publish/report/previewFrame.ts'

test('the frame allows its own script by its hash, the report’s by its own, and no origin', () => {
  expect(createHash('sha256').update(FRAME_SCRIPT).digest('base64')).toBe(FRAME_SCRIPT_SHA256)
  expect(PREVIEW_FRAME).toContain(`<script>${FRAME_SCRIPT}</script>`)
  expect(FRAME_POLICY).toMatch(/sandbox allow-scripts allow-modals$/)
  expect(FRAME_POLICY).not.toContain('allow-same-origin')
  expect(FRAME_POLICY.match(/'self'|https?:|\*/g)).toEqual(["'self'"])
  expect(FRAME_POLICY).toContain("frame-ancestors 'self'")
})
