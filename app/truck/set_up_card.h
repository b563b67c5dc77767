// SPDX-License-Identifier: GPL-3.0-or-later
// The set-up that is offered for the stop: what it is, how much of everything, the drawing, the
// cautions; a tick when it stands.
#pragma once

#include "app/map/zone_painter.h"
#include "app/shell/session.h"

#include <QWidget>

class QKeyEvent;
class QLabel;

namespace keyround {

class BigButton;

/// The drawing of a set-up; empty ground without one.
class ZoneView final : public QWidget
{
    Q_OBJECT
public:
    explicit ZoneView(QWidget *parent = nullptr);
    void show(std::optional<ZoneDrawing> drawing);

protected:
    void paintEvent(QPaintEvent *event) override;

private:
    std::optional<ZoneDrawing> m_drawing;
};

class SetUpCard final : public QWidget
{
    Q_OBJECT
public:
    explicit SetUpCard(Session &session, QWidget *parent = nullptr);

    void show(const Valve &valve, bool isSetUp);
    [[nodiscard]] QWidget *firstField() const;
    bool takeKey(QKeyEvent *event);

Q_SIGNALS:
    void setUpTicked(bool isUp);
    void changeAsked();
    void askAgainAsked();

private:
    Session &m_session;
    QLabel *m_headline;
    QLabel *m_counts;
    QLabel *m_changed;
    QLabel *m_lines;
    QLabel *m_notes;
    ZoneView *m_view;
    BigButton *m_up;
    BigButton *m_change;
    BigButton *m_again;
};

} // namespace keyround
