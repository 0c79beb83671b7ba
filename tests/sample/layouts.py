"""The layouts of samples/raw: points to text."""
import math


# The layouts. None is a maker's: plain words, as a person would write them.

def comma_preamble(points, _):
    head = ['Note,6 m kit keyed into the course chain', 'Start frequency (MHz),10', 'Stop frequency (MHz),610', 'Resolution bandwidth (kHz),10',
            'Video bandwidth (kHz),30', 'Input attenuation (dB),20', 'Reference level (dBm),0', 'Detector,Positive peak', 'Sweep time (s),5.64',
            'Number of points,2001', '', 'Frequency (Hz),Level (dBm)']
    return '\n'.join(head + ['%.0f,%.2f' % p for p in points]) + '\n'


def semicolon_comma(points, _):
    head = ['Notiz;Tulvannick getastet', 'Startfrequenz;30,0 MHz', 'Stoppfrequenz;1530,0 MHz', 'Auflösungsbandbreite;10,0 kHz',
            'Videobandbreite;30,0 kHz', 'Eingangsdämpfung;20,0 dB', 'Referenzpegel;0,0 dBm', 'Detektor;Spitzenwert', 'Ablaufzeit;14,1 s',
            'Messpunkte;5001', '', 'Frequenz [MHz];Pegel [dBm]']
    rows = ['%.4f;%.2f' % (f / 1e6, level) for f, level in points]
    return '\ufeff' + '\r\n'.join(head + [row.replace('.', ',') for row in rows]) + '\r\n'


def tab_megahertz(points, _):
    head = ['Kit K3 keyed', 'RBW:\t10 kHz', 'VBW:\t30 kHz', 'Attenuation:\t20 dB', 'Reference level:\t0 dBm', 'Detector:\tpeak', 'Sweep time:\t15 s', '',
            'Frequency / MHz\tLevel / dBm']
    return '\n'.join(head + ['%.3f\t%.3f' % (f / 1e6, level) for f, level in points]) + '\n'


def levels_only(points, _):
    head = ['start = 10 MHz', 'stop = 1610 MHz', 'points = 1601', 'rbw = 1 MHz', 'vbw = 3 MHz', 'attenuation = 40 dB', 'reference level = 30 dBm',
            'detector = peak', 'sweep time = 20 ms', 'unit = dBm', '']
    return '\n'.join(head + ['%.2f' % level for _f, level in points]) + '\n'


def three_columns(first, others):
    head = ['Start,1000 kHz', 'Stop,151000 kHz', 'RBW,30 kHz', 'VBW,100 kHz', 'Attenuation,20 dB', 'Reference level,0 dBm', 'Detector,Sample',
            'Sweep time,1 s', 'Frequency (kHz),Sweep 1 (dBm),Sweep 2 (dBm),Sweep 3 (dBm)']
    rows = ['%.0f,' % (rows[0][0] / 1e3) + ','.join('%.2f' % level for _f, level in rows) for rows in zip(first, *others)]
    return '\n'.join(head + rows) + '\n'


def comma_microvolt(points, _):
    head = ['RBW,10 kHz', 'VBW,30 kHz', 'Attenuation,20 dB', 'Reference level,107 dBuV', 'Detector,Peak', 'Sweep time,13.6 s', '',
            'Frequency (MHz),Level (dBuV)']
    shift = 10 * math.log10(50 * 1e-3 / 1e-12)
    return '\n'.join(head + ['%.1f,%.2f' % (f / 1e6, level + shift) for f, level in points]) + '\n'


def bare_blanks(points, _):
    return '\n'.join('%10.0f  %8.3f' % p for p in points) + '\n'


def close_by(points, _):
    head = ['Note,6 m kit again: close by the carrier', 'Center frequency (MHz),50.4', 'Span (kHz),1200', 'Resolution bandwidth (kHz),1', 'Input attenuation (dB),20',
            'Reference level (dBm),0', 'Detector,Positive peak', 'Sweep time (s),3', '', 'Frequency (kHz),Level (dBm)']
    return '\n'.join(head + ['%.1f,%.2f' % (f / 1e3, level) for f, level in points]) + '\n'


def close_by_tabs(points, _):
    head = ['Kit K5 keyed, close by', 'RBW:\t1 kHz', 'VBW:\t10 kHz', 'Attenuation:\t20 dB', 'Reference level:\t0 dBm', 'Detector:\tsample', '',
            'Frequency / kHz\tLevel / dBm']
    return '\n'.join(head + ['%.1f\t%.2f' % (f / 1e3, level) for f, level in points]) + '\n'


def close_by_microvolt(points, _):
    head = ['RBW,1000 Hz', 'VBW,3000 Hz', 'Attenuation,20 dB', 'Reference level,107 dBuV', 'Detector,Peak', 'Sweep time,4.5 s', '', 'Frequency (MHz),Level (dBuV)']
    shift = 10 * math.log10(50 * 1e-3 / 1e-12)
    return '\n'.join(head + ['%.4f,%.2f' % (f / 1e6, level + shift) for f, level in points]) + '\n'


# Those of the lent analyzer's evening.

def pocket_preamble(attenuation):
    def layout(points, _):
        head = ['# lent analyzer', 'Start,30 MHz', 'Stop,1530 MHz', 'RBW,10 kHz', 'Attenuation,%d dB' % attenuation, 'Reference level,10 dBm',
                'Detector,Positive peak', 'Points,1001', 'Frequency (MHz),Level (dBm)']
        return '\n'.join(head + ['%.1f,%.1f' % (f / 1e6, level) for f, level in points]) + '\n'
    return layout


def columns_without_attenuation(first, others):
    head = ['RBW (kHz);10', 'Detector;peak', 'Reference level (dBm);10', 'Frequency (kHz);Sweep A (dBm);Sweep B (dBm);Sweep C (dBm)']
    rows = ['%.0f;' % (rows[0][0] / 1e3) + ';'.join('%.2f' % level for _f, level in rows) for rows in zip(first, *others)]
    return '\r\n'.join(head + rows) + '\r\n'


def semicolon_pocket(attenuation):
    def layout(points, _):
        head = ['Auflösungsbandbreite;10,0 kHz', 'Eingangsdämpfung;%d,0 dB' % attenuation, 'Referenzpegel;10,0 dBm', 'Detektor;Spitzenwert', '',
                'Frequenz [MHz];Pegel [dBm]']
        rows = ['%.1f;%.2f' % (f / 1e6, level) for f, level in points]
        return '\ufeff' + '\r\n'.join(head + [row.replace('.', ',') for row in rows]) + '\r\n'
    return layout


def tab_pocket(points, _):
    head = ['RBW:\t10 kHz', 'Attenuation:\t20 dB', 'Reference level:\t10 dBm', 'Detector:\tpeak', '', 'Frequency / MHz\tLevel / dBm']
    return '\n'.join(head + ['%.1f\t%.2f' % (f / 1e6, level) for f, level in points]) + '\n'


def levels_pocket(rbw_khz, attenuation, detector):
    def layout(points, _):
        head = ['start = 30 MHz', 'stop = 1530 MHz', 'points = 1001', 'rbw = %d kHz' % rbw_khz, 'attenuation = %d dB' % attenuation,
                'reference level = 10 dBm', 'detector = ' + detector, 'unit = dBm', '']
        return '\n'.join(head + ['%.2f' % level for _f, level in points]) + '\n'
    return layout


def microvolt_pocket(points, _):
    head = ['RBW,10 kHz', 'Attenuation,20 dB', 'Reference level,107 dBuV', 'Detector,Peak', '', 'Frequency (MHz),Level (dBuV)']
    shift = 10 * math.log10(50 * 1e-3 / 1e-12)
    return '\n'.join(head + ['%.1f,%.2f' % (f / 1e6, level + shift) for f, level in points]) + '\n'


def pocket_close(start, stop, rbw, points_said, decimals):
    def layout(points, _):
        head = ['# lent analyzer', 'Start,%s' % start, 'Stop,%s' % stop, 'RBW,%s' % rbw, 'Attenuation,10 dB', 'Reference level,10 dBm',
                'Detector,Positive peak', 'Points,%d' % points_said, 'Frequency (MHz),Level (dBm)']
        return '\n'.join(head + ['%.*f,%.1f' % (decimals, f / 1e6, level) for f, level in points]) + '\n'
    return layout


def levels_close(start, stop, count, rbw):
    def layout(points, _):
        head = ['start = ' + start, 'stop = ' + stop, 'points = %d' % count, 'rbw = ' + rbw, 'attenuation = 20 dB', 'reference level = 10 dBm',
                'detector = peak', 'unit = dBm', '']
        return '\n'.join(head + ['%.2f' % level for _f, level in points]) + '\n'
    return layout


def tab_course(points, _):
    head = ['RBW:\t1 kHz', 'VBW:\t3 kHz', 'Attenuation:\t20 dB', 'Reference level:\t0 dBm', 'Detector:\tpeak', '', 'Frequency / kHz\tLevel / dBm']
    return '\n'.join(head + ['%.1f\t%.2f' % (f / 1e3, level) for f, level in points]) + '\n'


def semicolon_course(points, _):
    head = ['Auflösungsbandbreite;10,0 kHz', 'Eingangsdämpfung;20,0 dB', 'Referenzpegel;0,0 dBm', 'Detektor;Spitzenwert', '', 'Frequenz [kHz];Pegel [dBm]']
    rows = ['%.0f;%.2f' % (f / 1e3, level) for f, level in points]
    return '\ufeff' + '\r\n'.join(head + [row.replace('.', ',') for row in rows]) + '\r\n'


def five_columns(first, others):
    head = ['RBW,10 kHz', 'VBW,30 kHz', 'Attenuation,20 dB', 'Reference level,0 dBm', 'Detector,Positive peak',
            'Frequency (Hz),' + ','.join('Sweep %d (dBm)' % (i + 1) for i in range(5))]
    rows = ['%.0f,' % rows[0][0] + ','.join('%.2f' % level for _f, level in rows) for rows in zip(first, *others)]
    return '\n'.join(head + rows) + '\n'


CLUB = {
    'zelbridor.csv': (comma_preamble, ['zelbridor']),
    'tulvannick.csv': (semicolon_comma, ['tulvannick']),
    'larquedon.txt': (tab_megahertz, ['larquedon']),
    'brundlow.dat': (levels_only, ['brundlow']),
    'zelbridor-close.csv': (close_by, ['zelbridor-close']),
    'vaskerry.csv': (three_columns, ['vaskerry-1', 'vaskerry-2', 'vaskerry-3']),
    'dornimel-2m.csv': (comma_microvolt, ['dornimel-2m']),
    'vaskerry-close.txt': (close_by_tabs, ['vaskerry-close']),
    'dornimel-2m-close.csv': (close_by_microvolt, ['dornimel-2m-close']),
    'dornimel-70cm.dat': (bare_blanks, ['dornimel-70cm']),
}

POCKET = {
    'room.csv': (pocket_preamble(10), ['room']),
    'orbanick-00.csv': (pocket_preamble(0), ['orbanick-00']),
    'orbanick-10.csv': (pocket_preamble(10), ['orbanick-10']),
    'orbanick-20.csv': (pocket_preamble(20), ['orbanick-20']),
    'orbanick-close.csv': (pocket_close('145.54 MHz', '145.66 MHz', '100 Hz', 1001, 5), ['orbanick-close']),
    'orbanick-beside.csv': (pocket_close('143.6 MHz', '148.6 MHz', '1 kHz', 1001, 3), ['orbanick-beside']),
    'tamsary.csv': (columns_without_attenuation, ['tamsary-1', 'tamsary-2', 'tamsary-3']),
    'quelldrin-10.csv': (semicolon_pocket(10), ['quelldrin-10']),
    'quelldrin-20.csv': (semicolon_pocket(20), ['quelldrin-20']),
    'morvenlick.txt': (tab_pocket, ['morvenlick']),
    'morvenlick-key-up.txt': (tab_pocket, ['morvenlick-key-up']),
    'fennimarch.dat': (levels_pocket(100, 30, 'peak'), ['fennimarch']),
    'fennimarch-stub.dat': (levels_pocket(10, 0, 'peak'), ['fennimarch-stub']),
    'fennimarch-close.dat': (levels_close('145440 kHz', '145560 kHz', 1001, '100 Hz'), ['fennimarch-close']),
    'fennimarch-beside.dat': (levels_close('143 MHz', '148 MHz', 1001, '1 kHz'), ['fennimarch-beside']),
    'selvoran.dat': (levels_pocket(100, 10, 'sample'), ['selvoran']),
    'harrobeck-key-up.csv': (microvolt_pocket, ['harrobeck-key-up']),
    'harrobeck.csv': (five_columns, ['harrobeck-%d' % i for i in range(1, 6)]),
    'harrobeck-close.txt': (tab_course, ['harrobeck-close']),
    'harrobeck-beside.csv': (semicolon_course, ['harrobeck-beside']),
}
