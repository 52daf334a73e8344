/** A technician's case in shorthand, with readings and a picture; and one reading outside of any case. */
import { afterEach, describe, expect, it } from 'vitest';
import { altsOf, aScene, content, control, expectSound, lastQuestion, openCase, posted, type Scene } from './a-bot.js';

let scene: Scene;
afterEach(() => scene.end());

describe('a technician on Discord', () => {
  it('writes shorthand and readings, and gets the chart of a sensor', async () => {
    scene = await aScene();
    const { discord, bo } = scene;
    const thread = await openCase(scene, bo, 'SxS, FF warm, evap full blanket of frost');
    discord.people.say(bo, thread, '5.4k at 73F on the sensor');
    await posted(scene);
    const chart = discord.botMessages(thread).findLast((m) => m.files.length > 0);
    expect(chart?.files[0]?.name).toBe('sensor.png');
    expect(chart && altsOf(scene, chart)[0]).toMatch(/ohm|Ω/);
    discord.people.say(bo, thread, 'htr OL');
    await posted(scene);
    const state = scene
      .parts()
      .store.load(
        scene.parts().store.caseOf('discord', scene.parts().store.rooms.at(thread.id)?.conversation ?? '') ?? '',
      );
    expect(state?.role).toBe('technician');
    expect(state?.readings.map((r) => r.part)).toEqual(['defrost-sensor', 'defrost-heater']);
    expectSound(scene);
  });

  it('enters a measured value in a form with hints', async () => {
    scene = await aScene();
    const { discord, bo } = scene;
    const thread = await openCase(scene, bo, 'top freezer, frost on the whole coil, FF warm, defrost timer');
    for (let i = 0; i < 12; i += 1) {
      const message = await lastQuestion(scene, thread);
      const measure = message.parts.find((p) => p.custom_id?.startsWith('1.m.'));
      if (measure?.custom_id) {
        const wrong = discord.people.press(bo, message, measure.custom_id);
        await discord.until(() => wrong.modal);
        const refused = discord.people.submit(bo, wrong, { value: 'blue', at: '' });
        await discord.until(() => refused.answer);
        expect(content(refused)).not.toBe('');
        const form = discord.people.press(bo, message, measure.custom_id);
        await discord.until(() => form.modal);
        discord.people.submit(bo, form, { value: form.modal?.title.includes('eater') ? '25 ohm' : '10 ohm', at: '' });
        await posted(scene);
        const { store } = scene.parts();
        const state = store.load(store.caseOf('discord', store.rooms.at(thread.id)?.conversation ?? '') ?? '');
        expect(state?.readings).toHaveLength(1);
        expectSound(scene);
        return;
      }
      const notSure = message.parts.find((p) => p.custom_id?.startsWith('1.n.'));
      discord.people.press(bo, message, notSure?.custom_id ?? control(message, 'a', /not sure/i));
    }
    throw new Error('no measurement was asked for');
  });

  it('has one reading judged without a case, seen by nobody else', async () => {
    scene = await aScene();
    const { discord, bo } = scene;
    const asked = discord.people.slash(bo, 'reading', {
      part: 'defrost-sensor.resistance',
      value: '22.1k',
      at: 'ice',
      sheet: '16.3k@32F',
    });
    await discord.until(() => content(asked).includes('bad'));
    expect(asked.original?.files[0]?.name).toBe('reading.png');
    expect(asked.original?.onlyFor).toBe(bo.id);
    const wrong = discord.people.slash(bo, 'reading', { part: 'defrost-sensor.resistance', value: 'blue' });
    await discord.until(() => content(wrong) !== '' && wrong.answer);
    expectSound(scene);
  });
});
