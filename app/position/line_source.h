// SPDX-License-Identifier: GPL-3.0-or-later
// Where lines come from: a serial port, or a recorded log at its own pace.
#pragma once

#include "app/position/position_habits.h"

#include <QFile>
#include <QObject>
#include <QSerialPort>
#include <QTime>
#include <QTimer>

namespace keyround {

class LineSource : public QObject
{
    Q_OBJECT
public:
    using QObject::QObject;
    virtual void open() = 0;

Q_SIGNALS:
    void line(const QByteArray &line);
    void troubled(const QString &why); ///< empty: all is well again
};

/// A receiver on a serial port. One that is pulled out, or is not there yet, is looked for again.
class PortSource final : public LineSource
{
    Q_OBJECT
public:
    PortSource(const QString &port, int baud, QObject *parent = nullptr);
    void open() override;

private:
    void readLines();
    void lookAgain(const QString &why);

    QSerialPort m_port;
    QByteArray m_rest;
    QTimer m_again;
};

/// A log: sentences of one second together, the next after as long as the receiver took.
class LogSource final : public LineSource
{
    Q_OBJECT
public:
    LogSource(const QString &path, int speed, QObject *parent = nullptr);
    void open() override;

private:
    void playOn();

    QFile m_file;
    QByteArray m_waiting; ///< the first line of the next second
    QTime m_second;
    int m_speed;
    QTimer m_next;
};

} // namespace keyround
