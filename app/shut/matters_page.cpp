// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/matters_page.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/dialogs/truck_look.h"
#include "app/map/map_widget.h"
#include "app/models/data_table.h"
#include "app/shut/weight_model.h"

#include <QHBoxLayout>
#include <QSplitter>
#include <QTabWidget>
#include <QTableView>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

MattersPage::MattersPage(Session &session, QWidget *parent)
    : FreshPage(parent), m_session(session), m_weights(new WeightModel(session, this)),
      m_large(new LargeShutModel(session, this)),
      m_back(new BigButton(BigButton::Kind::Plain, tr("Back to the break"), this)),
      m_sentence(truckLabel(this)), m_tabs(new QTabWidget(this)),
      m_valves(new DataTable(QStringLiteral("valve-weights"), this)),
      m_shuts(new DataTable(QStringLiteral("largest-shuts"), this)),
      m_map(new MapWidget(session, this))
{
    setObjectName(QStringLiteral("matters"));
    m_back->setObjectName(QStringLiteral("matters-back"));
    m_sentence->setObjectName(QStringLiteral("matters-sentence"));
    const QString empty = tr("No valve is on a main. Bring in mains and valves, and see under "
                             "\"How the mains were read\" what did not fit.");
    m_valves->setObjectName(QStringLiteral("matters-valves"));
    m_shuts->setObjectName(QStringLiteral("matters-shuts"));
    m_valves->setModel(m_weights);
    m_valves->setDefaultWidths({100, 170, 240, 140, 150, 140, 130, 140});
    m_valves->setEmptyText(empty);
    m_valves->view()->sortByColumn(WeightModel::MoreIfStuck, Qt::DescendingOrder);
    m_shuts->setModel(m_large);
    m_shuts->setDefaultWidths({110, 90, 90, 500});
    m_shuts->setEmptyText(empty);
    m_tabs->addTab(m_valves, tr("Every valve"));
    m_tabs->addTab(m_shuts, tr("The largest shuts"));

    auto *splitter = new QSplitter(Qt::Horizontal, this);
    splitter->addWidget(m_tabs);
    splitter->addWidget(m_map);
    splitter->setChildrenCollapsible(false);
    splitter->setSizes({880, 460});
    rememberSplitter(splitter, QStringLiteral("matters-split"));
    const int gap = TruckScale::of(this).gap;
    auto *head = new QHBoxLayout;
    head->setSpacing(gap);
    head->addWidget(m_sentence, 4);
    head->addWidget(m_back, 1);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap, gap, gap, gap);
    layout->addLayout(head);
    layout->addWidget(splitter, 1);
    layout->addWidget(plainLabel(connectivityCaution(), QStringLiteral("caution"), this));

    connect(m_back, &QAbstractButton::clicked, this, &MattersPage::backAsked);
    connect(m_valves, &DataTable::selectionChanged, this, [this] {
        if (const QList<int> rows = m_valves->selectedRows(); !rows.isEmpty()) {
            showValve(rows.front());
        }
    });
    connect(m_shuts, &DataTable::selectionChanged, this, [this] {
        if (const QList<int> rows = m_shuts->selectedRows(); !rows.isEmpty()) {
            showLargeShut(rows.front());
        }
    });
    follow(session.notifier(),
           {&Notifier::projectChanged, &Notifier::valvesChanged, &Notifier::layersChanged,
            &Notifier::networkFixesChanged, &Notifier::visitsChanged, &Notifier::shutsChanged});
}

void MattersPage::reload()
{
    m_weights->reload();
    m_large->reload();
    m_map->setShut({});
    const auto &all = m_session.importances();
    const auto worst = std::ranges::max_element(all, {}, &ValveImportance::moreAtMost);
    if (worst == all.end()) {
        m_sentence->setText(tr("What matters most"));
        return;
    }
    if (worst->moreAtMost == 0) {
        m_sentence->setText(tr("What matters most: no single valve costs anybody their water by "
                               "sticking."));
        return;
    }
    m_sentence->setText(tr("What matters most: %1. %2")
                            .arg(m_session.network()
                                     .network.valves[static_cast<std::size_t>(worst - all.begin())]
                                     .number,
                                 wordsFor(*worst)));
}

void MattersPage::showValve(int row)
{
    const NetIndex index = m_weights->valveAt(row);
    const PipeNetwork &network = m_session.network().network;
    if (index >= network.valves.size()) {
        return;
    }
    // Who goes dry when it is shut alone, and the valve itself.
    MapShut shut;
    for (const NetIndex segment : m_session.singleShuts().segments(index)) {
        for (const NetIndex piece : network.piecesOf.of(segment)) {
            shut.beyond.push_back(network.lineOf(network.pieces[piece]));
        }
    }
    const NetValve &valve = network.valves[index];
    shut.flags.push_back({valve.place, valve.number, MapShut::Flag::Kind::Here});
    m_map->setShut(shut);
    m_map->showPlace(valve.place);
}

void MattersPage::showLargeShut(int row)
{
    const LargeShut &large = m_large->shutAt(row);
    const PipeNetwork &network = m_session.network().network;
    MapShut shut;
    for (const NetIndex segment : large.segments) {
        for (const NetIndex piece : network.piecesOf.of(segment)) {
            shut.out.push_back(network.lineOf(network.pieces[piece]));
        }
    }
    for (const NetIndex index : large.valves) {
        shut.valves.push_back({network.valves[index].place,
                               QStringLiteral(" %1").arg(network.valves[index].number),
                               MapShut::Sign::Close, false});
    }
    m_map->setShut(shut);
    m_map->showPoints(shut.extent());
}

void MattersPage::focusField()
{
    m_valves->view()->setFocus();
}

} // namespace keyround
