import { expect, test } from 'vitest'
import { dataFolder, storePlace } from '../../src/store/place.ts'
import { bad, good } from './stores.ts'

test('the folder for a user’s data, by the custom of each system', () => {
  expect(dataFolder({}, 'linux', '/home/kim')).toBe('/home/kim/.local/share/tenterhook')
  expect(dataFolder({ XDG_DATA_HOME: '/data' }, 'linux', '/home/kim')).toBe('/data/tenterhook')
  expect(dataFolder({ XDG_DATA_HOME: 'relative' }, 'linux', '/home/kim')).toBe(
    '/home/kim/.local/share/tenterhook',
  )
  expect(dataFolder({}, 'darwin', '/Users/kim')).toBe('/Users/kim/Library/Application Support/Tenterhook')
  expect(dataFolder({ LOCALAPPDATA: 'D:\\Local' }, 'win32', 'C:\\Users\\kim')).toBe('D:\\Local\\Tenterhook')
  expect(dataFolder({}, 'win32', 'C:\\Users\\kim')).toBe('C:\\Users\\kim\\AppData\\Local\\Tenterhook')
})

test('the option wins over the environment, and that over custom', () => {
  const env = { TENTERHOOK_STORE: '/from/env' }
  expect(good(storePlace('/from/option', env, 'linux')).folder).toBe('/from/option')
  expect(good(storePlace(undefined, env, 'linux')).file).toBe('/from/env/tenterhook.sqlite')
  expect(good(storePlace(undefined, {}, 'linux', '/home/kim')).folder).toBe(
    '/home/kim/.local/share/tenterhook',
  )
  expect(good(storePlace('C:\\lab', {}, 'win32')).file).toBe('C:\\lab\\tenterhook.sqlite')
})

test('an address of a database is told plainly, without its password', () => {
  for (const address of ['postgres://lab:geheim@db/x', 'postgresql://lab:geheim@db/x']) {
    expect(bad(storePlace(address, {}))).toContain('PostgreSQL')
    expect(bad(storePlace(undefined, { TENTERHOOK_STORE: address }))).toContain('TENTERHOOK_STORE')
    expect(bad(storePlace(address, {}))).not.toContain('geheim')
  }
  expect(bad(storePlace('mysql://u:geheim@db', {}))).not.toContain('geheim')
  expect(bad(storePlace(' ', {}))).toContain('empty')
})
