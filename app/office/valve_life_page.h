// SPDX-License-Identifier: GPL-3.0-or-later
// One valve's whole life on one page: what it is, its lives in the ground, its counts as a chart,
// every visit, photos where there are any. What it needs next stands at the top. It is taken away
// as a page of paper (PDF), as its visits (CSV), or copied.
#pragma once

#include "core/common/ids.h"
#include "core/common/result.h"

#include <QWidget>

class QLabel;
class QVBoxLayout;

namespace keyround {

class ChartPanel;
class Session;
class VisitList;

class ValveLifePage final : public QWidget
{
    Q_OBJECT
public:
    explicit ValveLifePage(Session &session, QWidget *parent = nullptr);

    void showValve(const ValveId &valve, const VisitId &marked);
    /// Reads what is shown again; nothing happens while no valve is shown.
    void refresh();

Q_SIGNALS:
    void backWanted();
    void repairWanted(const ValveId &valve, const VisitId &visit);

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    [[nodiscard]] QWidget *buildFacts();
    [[nodiscard]] QWidget *buildFiles();
    void save(const QString &title, const QString &ending,
              Status (*write)(Session &, const ValveId &, const QString &));
    void preview();
    void copy();
    void showFacts();
    void showPhotos();
    void addFact(const QString &heading, const QStringList &lines);

    Session &m_session;
    ValveId m_valve;
    VisitId m_marked;
    QLabel *m_title;
    QLabel *m_where;
    QVBoxLayout *m_facts = nullptr;
    ChartPanel *m_panel;
    VisitList *m_visits;
};

} // namespace keyround
